import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { gapDrift } from "../../src/wear/gap-drift.ts";
import { type SealReadings, sealEffect } from "../../src/wear/seal-effect.ts";
import { CROSSINGS, type SealPeriod, sealHours } from "../../src/wear/seal-hours.ts";

const period = (left: number | null, found: number | null): SealPeriod => ({
  component: 0,
  environment: 0,
  fromHours: 1000,
  toHours: 1600,
  gapLeftMm: left,
  gapFoundMm: found,
  toleranceMm: [0, 1],
});

describe("sealHours(period, crossing, untilHours)", () => {
  const outOf = (p: SealPeriod, until?: number) =>
    CROSSINGS.map((crossing) => sealHours(p, crossing, until).outOfTolerance);

  it("places the crossing three ways, by hand: 0.8 to 1.4 mm crosses 1 mm after a third of 600 h", () => {
    expect(outOf(period(0.8, 1.4)).map((hours) => Math.round(hours * 1e6) / 1e6)).toEqual([400, 600, 0]);
    expect(outOf(period(1.4, 0.8)).map((hours) => Math.round(hours * 1e6) / 1e6)).toEqual([400, 600, 0]);
    expect(outOf(period(0.2, 0.9))).toEqual([0, 0, 0]);
    expect(outOf(period(1.2, 1.9))).toEqual([600, 600, 600]);
    // Common practice, no source: a shielded ring is set to 0 to 0.040 in.
    const inch = { ...period(0.02 * 25.4, 0.06 * 25.4), toleranceMm: [0, 0.04 * 25.4] as const };
    expect(sealHours(inch, "straight").outOfTolerance).toBeCloseTo(300, 9);
  });

  it("cuts at the reading, and keeps hours without gaps apart", () => {
    expect(sealHours(period(0.8, 1.4), "straight", 1300).outOfTolerance).toBeCloseTo(100, 9);
    expect(sealHours(period(0.8, 1.4), "straight", 900)).toEqual({
      inTolerance: 0,
      outOfTolerance: 0,
      notKnown: 0,
    });
    expect(sealHours(period(null, 1.4), "straight")).toEqual({
      inTolerance: 0,
      outOfTolerance: 0,
      notKnown: 600,
    });
  });
});

/** A fleet whose bearings wear `ratio` times as fast while the gap is over 1 mm; gaps drift 0.6 mm per 1000 h. */
function fleet(seed: number, ratio: number) {
  const random = seededRandom(seed);
  const periods: SealPeriod[] = [];
  const tails: number[] = [];
  const rows: number[][] = [];
  for (let tail = 0; tail < 24; tail++) {
    const environment = tail % 2;
    for (let k = 0; k < 3; k++) {
      const component = tail * 3 + k;
      const base = (environment ? 0.12 : 0.25) * Math.exp(0.15 * random.normal());
      let gap = 0.3 + 0.6 * random.uniform();
      let wear = 0.02 + 0.01 * random.normal();
      for (let look = 0; look < 6; look++) {
        const drift = 0.6 * (0.5 + random.uniform());
        const crossed = Math.min(1, Math.max(0, (1 - gap) / (drift * 0.3)));
        const found = gap + drift * 0.3;
        wear += base * 0.3 * (crossed + ratio * (1 - crossed));
        const fromHours = 300 * look;
        periods.push({
          component,
          environment,
          fromHours,
          toHours: fromHours + 300,
          gapLeftMm: gap,
          gapFoundMm: found,
          toleranceMm: [0, 1],
        });
        tails.push(tail);
        rows.push([component, tail, fromHours + 300, wear + 0.012 * random.normal()]);
        // Some are set right at the look, some are left as they are.
        gap = random.uniform() < 0.4 ? 0.3 + 0.3 * random.uniform() : found;
      }
    }
  }
  const column = (k: number) => Float64Array.from(rows, (row) => row[k]!);
  const readings: SealReadings = {
    rows: rows.length,
    component: Int32Array.from(column(0)),
    aircraft: Int32Array.from(column(1)),
    hours: column(2),
    wearMm: column(3),
    environments: ["sandy", "temperate"],
  };
  return { readings, periods, tails };
}

describe("sealEffect(readings, periods, options)", () => {
  it("finds a threefold rate out of tolerance, and shows the most pessimistic of three ways", () => {
    const { readings, periods } = fleet(3, 3);
    const effect = sealEffect(readings, periods);
    if (effect.kind !== "fitted") throw new Error(effect.why);
    const [straight, atOnce, atEnd] = effect.ways;
    expect(straight!.together.lower).toBeLessThan(3);
    expect(straight!.together.upper).toBeGreaterThan(3);
    expect(straight!.together.lower).toBeGreaterThan(2);
    expect(straight!.byEnvironment.map((ratio) => ratio.environment)).toEqual(["sandy", "temperate"]);
    expect(atOnce!.shareOut).toBeGreaterThan(straight!.shareOut);
    expect(atEnd!.shareOut).toBeLessThan(straight!.shareOut);
    expect(effect.pessimistic.together.lower).toBe(Math.min(...effect.ways.map((way) => way.together.lower)));
    expect(straight!.rateAllInTolerance).toBeLessThan(straight!.rateAsFlown);
    expect(straight!.rateAllInTolerance / ((0.25 + 0.12) / 2)).toBeGreaterThan(0.85);
    expect(straight!.rateAllInTolerance / ((0.25 + 0.12) / 2)).toBeLessThan(1.15);
    expect(sealEffect(readings, periods)).toEqual(effect);
  });

  it("finds none where there is none", () => {
    const { readings, periods } = fleet(4, 1);
    const effect = sealEffect(readings, periods);
    if (effect.kind !== "fitted") throw new Error(effect.why);
    expect(effect.pessimistic.together.lower).toBeLessThan(1);
    expect(effect.ways[0]!.together.upper).toBeGreaterThan(1);
  });

  it("says why there is no answer without hours out of tolerance", () => {
    const { readings, periods } = fleet(3, 3);
    const tight = periods.map((p) => ({ ...p, toleranceMm: [0, 99] as const }));
    expect(sealEffect(readings, tight)).toMatchObject({ kind: "not-fitted", why: /in and out of tolerance/ });
  });
});

describe("gapDrift(periods, aircraft)", () => {
  it("is total drift over total hours, with bounds that hold the truth of 0.6 mm per 1000 h", () => {
    const { periods, tails } = fleet(5, 2);
    const drift = gapDrift(periods, tails);
    if (drift.kind !== "fitted") throw new Error(drift.kind);
    expect(drift.lower).toBeLessThan(0.6);
    expect(drift.upper).toBeGreaterThan(0.6);
    expect(drift.upper - drift.lower).toBeLessThan(0.08);
    expect(gapDrift(periods.slice(0, 6), tails)).toMatchObject({ kind: "too-few", aircraft: 1 });
  });
});
