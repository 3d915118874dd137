import { describe, expect, it } from "vitest";
import { standardNormalCdf } from "../../src/math/distributions.ts";
import { normalQuadrature } from "../../src/math/gauss-hermite.ts";
import {
  type LognormalWear,
  lognormalBelow,
  tabulatedLognormalBelow,
} from "../../src/wear/lognormal-below.ts";
import { normalBelow } from "../../src/wear/normal-below.ts";

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
        for (const hours of HOURS) expect(Math.abs(below(hours) - plainly(wear, hours))).toBeLessThan(1e-9);
      }
    }
  });
});

describe("tabulatedLognormalBelow(wear)", () => {
  it("differs from the curve computed value by value by less than 1e-9, also far out", () => {
    for (const spread of SPREADS) {
      for (const scatter of [...SCATTERS, 0.3]) {
        const wear = wearOf(spread, scatter);
        const direct = lognormalBelow(wear);
        const table = tabulatedLognormalBelow(wear);
        for (const hours of [1e-3, ...HOURS, 1e7]) {
          expect(Math.abs(table(hours) - direct(hours))).toBeLessThan(1e-9);
        }
      }
    }
  });

  it("is the direct curve where the spread is next to nothing, and without room", () => {
    for (const wear of [wearOf(1e-9, 0.05), { ...wearOf(0.3, 0.05), roomMm: -0.01 }]) {
      for (const hours of HOURS) {
        expect(tabulatedLognormalBelow(wear)(hours)).toBeCloseTo(lognormalBelow(wear)(hours), 9);
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
      expect(Math.abs(below(hours) - sum)).toBeLessThan(1e-9);
    }
  });
});
