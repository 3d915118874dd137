import { describe, expect, it } from "vitest";
import { type UnsafeSetting, unsafeRiskOf } from "../../src/interval/rate-risk.ts";
import { unsafeRiskObserved } from "../../src/interval/unsafe-observed.ts";
import { looksBeforeUnsafe } from "../../src/interval/unsafe-risk.ts";
import { standardNormalCdf } from "../../src/math/distributions.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { RateParameters } from "../../src/wear/rate-families.ts";

const parameters: RateParameters = {
  family: "lognormal",
  interceptMm: 0,
  interceptSdMm: 0,
  measurementSdMm: 0,
  location: Math.log(0.4),
  spread: 0.5,
};
const setting: UnsafeSetting = {
  replaceAtMm: 0.5,
  unsafeAtMm: 0.8,
  beyondLimitFactor: 1.5,
  detectionChance: 0.9,
  otherRemovalsPerHour: 0,
};
const alone = [{ share: 1, parameters }];

describe("unsafeRiskOf(parts, setting, spacingH, exponent)", () => {
  it("sums the lognormal's shares by looks where nothing else removes components (closed form)", () => {
    // n ≥ k looks where rate ≤ 0.3 / (1.5 · k · 0.2) mm per 1000 h at 200 h.
    const atLeast = (k: number) => standardNormalCdf((Math.log(0.3 / (1.5 * k * 0.2)) - Math.log(0.4)) / 0.5);
    let expected = 0;
    for (let n = 0; n <= 4; n++) {
      const share = (n === 0 ? 1 : atLeast(n)) - (n === 4 ? 0 : atLeast(n + 1));
      expected += share * 0.1 ** n;
    }
    expect(unsafeRiskOf(alone, setting, 200)).toBeCloseTo(expected, 7);
  });

  it("weights rates by their chance of reaching the limit first, as simulating them does", () => {
    const random = seededRandom(11);
    const hazard = 1 / 2000;
    let reached = 0;
    let risk = 0;
    for (let i = 0; i < 400_000; i++) {
      const rate = Math.exp(Math.log(0.4) + 0.5 * random.normal());
      const hoursToLimit = (1000 * 0.5) / rate;
      if (random.exponential() / hazard < hoursToLimit) continue;
      reached++;
      risk += 0.1 ** Math.min(4, Math.floor(0.3 / (1.5 * (rate / 1000) * 200)));
    }
    const simulated = risk / reached;
    expect(unsafeRiskOf(alone, { ...setting, otherRemovalsPerHour: hazard }, 200) / simulated).toBeCloseTo(
      1,
      1.7,
    );
  });

  it("takes the local rate at the limit where wear bends up (by hand for one rate)", () => {
    // b·h² = 0.5 at h = √(0.5/b): local rate 2·√(0.5·b), in mm per 1000 h with h in thousands.
    const one = { ...parameters, spread: 1e-6, location: Math.log(0.5) };
    const local = 2 * Math.sqrt(0.5 * 0.5);
    const looks = Math.floor(0.3 / ((1.5 * local * 95) / 1000));
    expect(looks).toBe(2);
    expect(unsafeRiskOf([{ share: 1, parameters: one }], setting, 95, 2)).toBeCloseTo(0.1 ** 2, 6);
  });

  it("adds the parts of a mixture by their shares", () => {
    const fast = { ...parameters, location: Math.log(4) };
    const mixed = unsafeRiskOf(
      [
        { share: 0.95, parameters },
        { share: 0.05, parameters: fast },
      ],
      setting,
      200,
    );
    const apart =
      0.95 * unsafeRiskOf(alone, setting, 200) +
      0.05 * unsafeRiskOf([{ share: 1, parameters: fast }], setting, 200);
    expect(mixed).toBeCloseTo(apart, 10);
  });

  it("never falls with spacing, beyond-limit factor or scatter, nor rises with detection", () => {
    const risk = (change: Partial<UnsafeSetting>, spacing = 200, sd = 0) =>
      unsafeRiskOf(
        [{ share: 1, parameters: { ...parameters, measurementSdMm: sd } }],
        { ...setting, ...change },
        spacing,
      );
    expect(risk({}, 300)).toBeGreaterThanOrEqual(risk({}));
    expect(risk({ beyondLimitFactor: 2 })).toBeGreaterThanOrEqual(risk({}));
    expect(risk({}, 200, 0.03)).toBeGreaterThanOrEqual(risk({}));
    expect(risk({ detectionChance: 0.95 })).toBeLessThanOrEqual(risk({}));
    expect(risk({ unsafeAtMm: 0.7 })).toBeGreaterThanOrEqual(risk({}));
  });
});

describe("unsafeRiskObserved(rates, …)", () => {
  it("is the weighted mean over the rates (by hand: one in ten gets no look)", () => {
    const rates = {
      rateMmPer1000Hours: Float64Array.from({ length: 10 }, (_, i) => (i === 3 ? 5 : 0.1)),
      weight: new Float64Array(10).fill(0.1),
    };
    // 0.3 / (1.5 · 5/1000 · 200) = 0.2 looks; the others get 10, of which 4 count.
    expect(unsafeRiskObserved(rates, parameters, setting, 200)).toBeCloseTo(0.1 * 1 + 0.9 * 1e-4, 12);
  });

  it("goes through the rates one by one to the same number, whatever removes them before", () => {
    const random = seededRandom(5);
    const rates = {
      rateMmPer1000Hours: Float64Array.from({ length: 300 }, () => Math.exp(0.6 * random.normal())),
      weight: Float64Array.from({ length: 300 }, () => random.exponential()),
    };
    for (const otherRemovalsPerHour of [0, 1 / 800]) {
      for (const spacingH of [20, 55, 130, 400]) {
        let risk = 0;
        let reached = 0;
        for (const [k, rate] of rates.rateMmPer1000Hours.entries()) {
          const weight = rates.weight[k]! * Math.exp((-otherRemovalsPerHour * 500) / rate);
          risk += weight * 0.1 ** looksBeforeUnsafe(0.3, (1.5 * rate) / 1000, spacingH);
          reached += weight;
        }
        const asked = { ...setting, otherRemovalsPerHour };
        expect(unsafeRiskObserved(rates, parameters, asked, spacingH) / (risk / reached)).toBeCloseTo(1, 11);
      }
    }
  });
});
