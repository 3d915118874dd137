import { describe, expect, it } from "vitest";
import { standardNormalCdf } from "../../src/math/distributions.ts";
import { normalQuadrature } from "../../src/math/gauss-hermite.ts";
import { powerOf } from "../../src/wear/curvature.ts";
import { type LognormalWear, lognormalBelow } from "../../src/wear/lognormal-below.ts";
import { normalBelow } from "../../src/wear/normal-below.ts";
import { keepCurvesOf, survivalCurveBelow } from "../../src/wear/rate-families.ts";

const HOURS = Array.from({ length: 60 }, (_, k) => 40 * Math.exp(k / 8));
const SPREADS = [0.1, 0.2, 0.45, 1];
const SCATTERS = [0.005, 0.03, 0.06, 0.075];

const wearOf = (spread: number, scatter: number): LognormalWear => ({
  location: -1.2,
  spread,
  roomMm: 0.48,
  omegaMm: 0.48 * scatter,
});

/** The same sum with 41 points and the library's distribution function. */
function plainly({ location, spread, roomMm, omegaMm }: LognormalWear, hours: number): number {
  const { nodes, weights } = normalQuadrature(41);
  return nodes.reduce((sum, node, k) => {
    const rate = (1000 * (roomMm - omegaMm * node)) / hours;
    return rate > 0 ? sum + weights[k]! * standardNormalCdf((Math.log(rate) - location) / spread) : sum;
  }, 0);
}

describe("lognormalBelow(wear)", () => {
  it("is right to 1e-9 with the points it chooses, for every scatter and spread that a group may have", () => {
    for (const spread of SPREADS) {
      for (const scatter of SCATTERS) {
        const wear = wearOf(spread, scatter);
        const below = lognormalBelow(wear);
        for (const hours of HOURS)
          expect(Math.abs(below(Math.log(hours)) - plainly(wear, hours))).toBeLessThan(1e-9);
      }
    }
  });
});

describe("normalBelow(wear)", () => {
  it("in closed form equals the average over the scatter, where rates differ by more than readings scatter", () => {
    const wear = { location: 0.3, spread: 0.12, roomMm: 0.48, omegaMm: 0.02 };
    const { nodes, weights } = normalQuadrature(41);
    const below = normalBelow(wear);
    for (const hours of HOURS.filter((h) => h > 500)) {
      const positive = standardNormalCdf(wear.location / wear.spread);
      const sum = nodes.reduce((total, node, k) => {
        const rate = (1000 * (wear.roomMm - wear.omegaMm * node)) / hours;
        return total + weights[k]! * (1 - standardNormalCdf((wear.location - rate) / wear.spread) / positive);
      }, 0);
      expect(Math.abs(below(hours / 1000) - sum)).toBeLessThan(1e-9);
    }
  });
});

describe("survivalCurveBelow(parameters, limitMm, exponent)", () => {
  it("is the straight line's curve at the hours that the clock shows, kept or not, with the logarithm given or not", () => {
    for (const family of ["lognormal", "normal"] as const) {
      const parameters = {
        family,
        interceptMm: 0.02,
        interceptSdMm: 0.01,
        measurementSdMm: 0.015,
        location: family === "normal" ? 0.25 : -1.4,
        spread: family === "normal" ? 0.1 : 0.4,
      };
      for (const limitMm of [0.5, 0.06]) {
        const straight = survivalCurveBelow(parameters, limitMm);
        const bent = survivalCurveBelow(parameters, limitMm, 1.3);
        const again = survivalCurveBelow(keepCurvesOf(parameters), limitMm, 1.3);
        for (const hours of [0, 1e-3, ...HOURS]) {
          const expected = straight(powerOf(hours, 1.3));
          expect(bent(hours)).toBeCloseTo(expected, 12);
          expect(again(hours, Math.log(hours))).toBeCloseTo(expected, 9);
        }
      }
    }
  });
});
