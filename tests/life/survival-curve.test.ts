import { describe, expect, it } from "vitest";
import { type SurvivalCurve, survivalCurve } from "../../src/life/survival-curve.ts";
import { seededRandom } from "../../src/math/random.ts";
import { type LifeTable, lifeTable } from "../../src/records/life-table.ts";
import { randomLives } from "./random-lives.ts";
import { dataTable, reference } from "./reference-data.ts";

function curve(table: LifeTable): SurvivalCurve {
  const outcome = survivalCurve(table, 0.95);
  if (outcome.kind !== "curve") throw new Error(outcome.why);
  return outcome;
}

describe("survivalCurve(table): Kaplan-Meier", () => {
  it("is NIST/SEMATECH e-Handbook 8.2.1.5: 19/20, then times 18/19, 16/17, 15/16, 13/14, 10/11", () => {
    const { points, method } = curve(dataTable("nist-8-2-1-5"));
    expect(method).toBe("Kaplan-Meier");
    const factors = [19 / 20, 18 / 19, 16 / 17, 15 / 16, 13 / 14, 10 / 11];
    const byHand = factors.map((_, i) => factors.slice(0, i + 1).reduce((product, f) => product * f, 1));
    expect(points.map((p) => p.hours)).toEqual([10, 32, 56, 98, 122, 181]);
    for (const [i, point] of points.entries()) expect(point.survival).toBeCloseTo(byHand[i]!, 12);
  });

  for (const entry of reference.kaplanMeier) {
    it(`${entry.data}, ${entry.group}, as R survfit with log-log bounds (reference/life.json)`, () => {
      const ours = curve(dataTable(entry.data, entry.group));
      const points = ours.points.filter((point) => point.hours > entry.from);
      expect(points.map((p) => p.hours)).toEqual(entry.hours);
      for (const [i, point] of points.entries()) {
        expect(point.survival).toBeCloseTo(entry.survival[i]!, 10);
        if (entry.survival[i] === 0) {
          expect(point).toMatchObject({ survival: 0, lower: null, upper: null });
          continue;
        }
        expect(point.standardError!).toBeCloseTo(entry.standardError[i]!, 8);
        expect(point.lower!).toBeCloseTo(entry.lower[i]!, 8);
        expect(point.upper!).toBeCloseTo(entry.upper[i]!, 8);
      }
    });
  }

  it("says so where the first lives end before others join, and starts after them (retirement home, men)", () => {
    const ours = curve(dataTable("retirement-home", "men"));
    expect(ours.givenHours).toBeGreaterThanOrEqual(781);
    expect(ours.points.at(-1)!.survival).toBeGreaterThan(0);
    expect(ours.cautions[0]).toContain("given that these were reached");
  });

  it("says from which hours on it speaks where every life entered late", () => {
    const ours = curve(dataTable("retirement-home", "women"));
    expect(ours.givenHours).toBe(733);
    expect(ours.cautions).toHaveLength(1);
  });
});

describe("survivalCurve(table): Turnbull", () => {
  for (const entry of reference.turnbull) {
    it(`${entry.data}, ${entry.group}, as a slow EM on the innermost intervals in R`, () => {
      const ours = curve(dataTable(entry.data, entry.group));
      expect(ours.method).toBe("Turnbull");
      expect(ours.logLikelihood).toBeCloseTo(entry.logLikelihood, 8);
      expect(ours.selfConsistency).toBeLessThan(1e-9);
      const high = [entry.high].flat().map((hours) => hours ?? Number.POSITIVE_INFINITY);
      const mass = [entry.mass].flat();
      const masses = new Map<number, number>();
      let before = 1;
      for (const point of ours.points) {
        masses.set(point.hours, before - point.survival);
        before = point.survival;
      }
      for (const [i, hours] of high.entries()) {
        if (hours === Number.POSITIVE_INFINITY) expect(before).toBeCloseTo(mass[i]!, 6);
        else expect(masses.get(hours)!).toBeCloseTo(mass[i]!, 6);
      }
    });
  }

  it("has the masses that the literature gives for cosmesis, radiation (Finkelstein and Wolfe data; from memory)", () => {
    const ours = curve(dataTable("cosmesis", "radiation"));
    const published = [0.0463, 0.0334, 0.0887, 0.0708, 0.0926, 0.0818, 0.1209, 0.4656];
    let before = 1;
    // The last mass lies in (46, 48], beyond the last look of all.
    for (const [i, point] of ours.points.entries()) {
      expect(before - point.survival).toBeCloseTo(published[i]!, 4);
      before = point.survival;
    }
  });

  it("turbine wheels, each seen once: the pooled adjacent violators of the shares found cracked (by hand)", () => {
    // Nelson's 432 wheels: isotonic shares 0, 6/86, 6/86, 7/73, 5/30, 18/81, 18/81, 6/13, 43/74, 43/74, 21/36.
    const ours = curve(dataTable("turbine-wheels"));
    const at = (hours: number) => ours.points.findLast((point) => point.hours <= hours)?.survival ?? 1;
    const shares: [number, number][] = [
      [400, 0],
      [1400, 6 / 86],
      [1800, 7 / 73],
      [2200, 5 / 30],
      [3000, 18 / 81],
      [3400, 6 / 13],
      [4200, 43 / 74],
      [4600, 21 / 36],
    ];
    for (const [hours, share] of shares) expect(1 - at(hours)).toBeCloseTo(share, 9);
  });

  it("reaches its maximum on random tables with late entry: self-consistent to 1e-9, never increasing, within bounds", () => {
    const random = seededRandom(11);
    let curves = 0;
    for (let i = 0; i < 400; i++) {
      const outcome = survivalCurve(randomLives(random, 80), 0.95);
      if (outcome.kind === "none") {
        expect(outcome.why).toContain("no events");
        continue;
      }
      curves++;
      expect(outcome.selfConsistency).toBeLessThan(1e-9);
      let before = 1;
      for (const point of outcome.points) {
        expect(point.survival).toBeLessThanOrEqual(before);
        if (point.lower !== null) expect(point.lower).toBeLessThanOrEqual(point.survival);
        if (point.upper !== null) expect(point.upper).toBeGreaterThanOrEqual(point.survival);
        before = point.survival;
      }
    }
    expect(curves).toBeGreaterThan(200);
  });

  it("reaches its maximum for 8,000 lives each found in an interval of its own, and lies about the truth", () => {
    const random = seededRandom(5);
    const rows = Array.from({ length: 8000 }, () => {
      const hours = 3000 * random.exponential() ** (1 / 2.5);
      const look = 300 * random.uniform();
      const found = look + Math.ceil((hours - look) / 300) * 300;
      return { lowerHours: Math.max(0, found - 300), upperHours: found };
    });
    const { points, selfConsistency } = curve(lifeTable(rows));
    expect(selfConsistency).toBeLessThan(1e-9);
    for (const { hours, survival } of points)
      expect(Math.abs(survival - Math.exp(-((hours / 3000) ** 2.5)))).toBeLessThan(0.06);
  });

  it("a life whose only look is its entry changes nothing", () => {
    const rows = [
      { lowerHours: 0, upperHours: 10 },
      { lowerHours: 20, upperHours: Number.POSITIVE_INFINITY, count: 4 },
    ];
    const silent = { entryHours: 3, lowerHours: 3, upperHours: Number.POSITIVE_INFINITY };
    expect(curve(lifeTable([...rows, silent]))).toEqual(curve(lifeTable(rows)));
  });

  it("a life split at a move, the second part entering late, changes nothing", () => {
    const running = Number.POSITIVE_INFINITY;
    const rows = [
      { lowerHours: 100, upperHours: 200 },
      { lowerHours: 150, upperHours: 300 },
      { lowerHours: 0, upperHours: 120 },
      { lowerHours: 250, upperHours: running },
      { lowerHours: 400, upperHours: running },
    ];
    const whole = curve(lifeTable(rows));
    const split = curve(
      lifeTable([
        ...rows.slice(0, 4),
        { lowerHours: 170, upperHours: running },
        { entryHours: 170, lowerHours: 400, upperHours: running },
      ]),
    );
    expect(split.logLikelihood).toBeCloseTo(whole.logLikelihood, 10);
    expect(split.points.at(-1)!.survival).toBeCloseTo(whole.points.at(-1)!.survival, 9);
  });
});
