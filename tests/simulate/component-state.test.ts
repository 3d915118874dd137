import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import {
  type ComponentState,
  fly,
  newComponent,
  type SealState,
  trueRatePerHour,
  wearMm,
} from "../../src/simulate/component-state.ts";
import { DEFAULT_PART, type PartSettings } from "../../src/simulate/settings.ts";

const PART: PartSettings = {
  ...DEFAULT_PART,
  part: "bearing",
  positions: ["A"],
  partNumbers: [{ partNumber: "B-1", fromMonth: 0 }],
  serialPrefix: "",
  replaceAtMm: 0.5,
  unsafeAtMm: 0.8,
  newWearMm: 0,
  newWearSdMm: 0,
  rates: [{ environment: "sandy", standard: "plain", medianMmPer1000h: 1, logSd: 0.3 }],
  intervals: [{ intervalHours: 100 }],
};

/** A component of 1 mm per 1000 h, which makes the answers plain. */
function component(part: PartSettings): ComponentState {
  return { ...newComponent(part, 0, 0, seededRandom(1)), ratePerHour: 0.001 };
}

const sealWith = (gapMm: number): SealState => ({
  gapMm,
  driftPerHour: 0.01,
  toleranceMm: 1,
  wearFactor: 3,
});

describe("fly(part, component, seal, hours)", () => {
  it("wears rate × hours below the limit (by hand)", () => {
    const state = component(PART);
    expect(fly(PART, state, null, 300)).toEqual({
      hours: 300,
      wearMm: expect.closeTo(0.3, 12),
      failed: false,
    });
    expect(wearMm(PART, state)).toBeCloseTo(0.3, 12);
  });

  it("wears faster past the limit, and fails at unsafe-at: 500 h to 0.5 mm, then 0.3 mm at 1.5 times the rate", () => {
    const part = { ...PART, beyondLimitFactor: 1.5 };
    const state = component(part);
    const leg = fly(part, state, null, 1000);
    expect(leg.failed).toBe(true);
    expect(leg.hours).toBeCloseTo(500 + 300 / 1.5, 9);
    expect(wearMm(part, state)).toBeCloseTo(0.8, 12);
  });

  it("never fails without an unsafe-at limit", () => {
    const part = { ...PART, unsafeAtMm: null };
    expect(fly(part, component(part), null, 5000)).toMatchObject({ hours: 5000, failed: false });
  });

  it("counts the hours past the gap's tolerance with the seal's factor: 40 h in, 60 h out at 3 times", () => {
    const state = component(PART);
    const seal = sealWith(0.6);
    expect(fly(PART, state, seal, 100).wearMm).toBeCloseTo(0.001 * (40 + 3 * 60), 12);
    expect(seal.gapMm).toBeCloseTo(1.6, 12);
  });

  it("bends wear by the shape exponent and still meets the limit at the same hours", () => {
    const part = { ...PART, shapeExponent: 2 };
    const state = component(part);
    fly(part, state, null, 250);
    expect(wearMm(part, state)).toBeCloseTo(0.5 * 0.25, 12);
    fly(part, state, null, 250);
    expect(wearMm(part, state)).toBeCloseTo(0.5, 12);
    const rest = fly(part, state, null, 1000);
    // 0.8 mm where (x / 0.5)² × 0.5 = 0.8.
    expect(rest.hours + 500).toBeCloseTo(500 * Math.sqrt(1.6), 9);
  });

  it("gives the same wear in one leg or in many", () => {
    const [one, many] = [component(PART), component(PART)];
    const [sealOne, sealMany] = [sealWith(0.2), sealWith(0.2)];
    fly(PART, one, sealOne, 200);
    for (let leg = 0; leg < 100; leg++) fly(PART, many, sealMany, 2);
    expect(many.linearMm).toBeCloseTo(one.linearMm, 10);
  });
});

describe("trueRatePerHour(part, component, rate, aircraftEffect)", () => {
  const rates = (part: PartSettings, count: number): number[] => {
    const random = seededRandom(7);
    return Array.from({ length: count }, () =>
      trueRatePerHour(part, newComponent(part, 0, 0, random), PART.rates[0]!, random.normal()),
    );
  };

  it("is lognormal: mean of logs and their spread as set, 20,000 draws", () => {
    const logs = rates(PART, 20_000).map((rate) => Math.log(rate * 1000));
    const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
    const variance = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / logs.length;
    // Four standard errors of each.
    expect(Math.abs(mean)).toBeLessThan((4 * 0.3) / Math.sqrt(20_000));
    expect(Math.abs(Math.sqrt(variance) - 0.3)).toBeLessThan((4 * 0.3) / Math.sqrt(40_000));
  });

  it("gives two components of one aircraft the correlation that is set", () => {
    const part = { ...PART, aircraftCorrelation: 0.5 };
    const random = seededRandom(8);
    let products = 0;
    const pairs = 20_000;
    for (let k = 0; k < pairs; k++) {
      const aircraft = random.normal();
      const logRate = () =>
        Math.log(1000 * trueRatePerHour(part, newComponent(part, 0, 0, random), PART.rates[0]!, aircraft)) /
        0.3;
      products += logRate() * logRate();
    }
    expect(Math.abs(products / pairs - 0.5)).toBeLessThan(4 * Math.sqrt(1.25 / pairs));
  });

  it("has a fast share where the spread is bimodal, and a bad batch only in its months", () => {
    const bimodal: PartSettings = {
      ...PART,
      rates: [{ ...PART.rates[0]!, logSd: 0 }],
      spread: { kind: "bimodal", fastShare: 0.2, fastFactor: 4 },
      batch: { share: 0.5, factor: 3, fromMonth: 12, untilMonth: 24 },
    };
    const random = seededRandom(9);
    const factors = (month: number) =>
      Array.from({ length: 10_000 }, () => newComponent(bimodal, 0, month, random).factor);
    const share = (values: readonly number[], factor: number) =>
      values.filter((value) => value === factor).length / values.length;
    const before = factors(11);
    expect(share(before, 4)).toBeCloseTo(0.2, 1);
    expect(share(before, 1) + share(before, 4)).toBe(1);
    const during = factors(12);
    expect(share(during, 12)).toBeCloseTo(0.1, 1);
    expect(share(during, 3)).toBeCloseTo(0.4, 1);
  });

  it("is never zero or negative where the spread is normal", () => {
    const part = {
      ...PART,
      spread: { kind: "normal" },
      rates: [{ ...PART.rates[0]!, logSd: 0.8 }],
    } as const;
    const random = seededRandom(10);
    for (let k = 0; k < 5000; k++) {
      const rate = trueRatePerHour(part, newComponent(part, 0, 0, random), part.rates[0], random.normal());
      expect(rate).toBeGreaterThan(0);
    }
  });
});
