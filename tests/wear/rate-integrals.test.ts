import { describe, expect, it } from "vitest";
import { lognormalRates, type RateIntegral } from "../../src/wear/rate-integrals.ts";

/** Trapezoid sums of 4000 points over ±9 standard deviations of the rates: slow, and nothing in common with the rules. */
function plainly(p: number, q: number, location: number, spread: number): RateIntegral {
  const sums = { all: 0, mean: 0, square: 0, byLocation: 0, bySpread: 0 };
  const best = q / p;
  const steps = 4000;
  const middle = (Math.log(best) - location) / spread;
  const reach = Math.min(9, 14 / Math.sqrt(p) / (best * spread));
  const step = (2 * reach) / steps;
  for (let k = 0; k <= steps; k++) {
    const z = middle - reach + k * step;
    const b = Math.exp(location + spread * z);
    const weight = (step * Math.exp(-0.5 * p * (b - best) ** 2 - 0.5 * z * z)) / Math.sqrt(2 * Math.PI);
    sums.all += weight;
    sums.mean += weight * b;
    sums.square += weight * b * b;
    sums.byLocation += (weight * z) / spread;
    sums.bySpread += (weight * (z * z - 1)) / spread;
  }
  const { all } = sums;
  return {
    log: Math.log(all) + 0.5 * q * best,
    mean: sums.mean / all,
    square: sums.square / all,
    byLocation: sums.byLocation / all,
    bySpread: sums.bySpread / all,
  };
}

describe("lognormalRates(location, spread)", () => {
  it("agrees with plain sums where readings say much of a rate, on both sides of each change of rule", () => {
    const out: RateIntegral = { log: 0, mean: 0, square: 0, byLocation: 0, bySpread: 0 };
    for (const spread of [0.12, 0.4, 0.9]) {
      for (const share of [0.01, 0.049, 0.051, 0.19, 0.21, 0.44]) {
        for (const z of [-2, 0, 2.5]) {
          const best = Math.exp(-1.2 + spread * z);
          const error = Math.min(0.119, share * spread);
          const p = 1 / (error * best) ** 2;
          const exact = plainly(p, p * best, -1.2, spread);
          lognormalRates(-1.2, spread)(p, p * best, out);
          expect(Math.abs(out.log - exact.log)).toBeLessThan(1e-8 * (1 + Math.abs(exact.log)));
          for (const name of ["mean", "square", "byLocation", "bySpread"] as const) {
            expect(Math.abs(out[name] - exact[name])).toBeLessThan(1e-6 * (1 + Math.abs(exact[name])));
          }
        }
      }
    }
  });
});
