import { describe, expect, it } from "vitest";
import { reachesLimit, reachingAbove, type WayToLimit } from "../../src/interval/reaching-above.ts";
import { keepCurvesOf, type RateFamily, type RateParameters } from "../../src/wear/rate-families.ts";

const rates = (family: RateFamily, location: number, spread: number): RateParameters => ({
  ...{ family, location, spread },
  ...{ interceptMm: 0.01, interceptSdMm: 0.005, measurementSdMm: 0.01 },
});

/** Narrow, ordinary, wide; normal ones far from zero, near it, and cut off by it. */
const DISTRIBUTIONS = [
  rates("lognormal", -2, 0.01),
  rates("lognormal", -2, 0.35),
  rates("lognormal", -2, 1.4),
  rates("normal", 0.15, 0.01),
  rates("normal", 0.15, 0.06),
  rates("normal", -0.05, 0.1),
];

/** ∫ over log rates of density × chance, by Simpson's rule in 4000 steps, over the whole of the density. */
function bySteps({ family, location, spread }: RateParameters, way: WayToLimit, above: number): number {
  const zOf = (rate: number) => ((family === "lognormal" ? Math.log(rate) : rate) - location) / spread;
  const density = (logRate: number) => {
    const rate = Math.exp(logRate);
    return Math.exp(-0.5 * zOf(rate) ** 2) * (family === "lognormal" ? 1 : rate);
  };
  const slowestNormal = Math.log(Math.max(1e-9 * spread, location - 12 * spread));
  const slowest = family === "lognormal" ? location - 12 * spread : slowestNormal;
  const fastest = family === "lognormal" ? location + 14 * spread : Math.log(location + 14 * spread);
  const simpson = (of: (logRate: number) => number, from: number) => {
    const steps = 4000;
    const step = (fastest - from) / steps;
    let sum = 0;
    for (let i = 0; i <= steps; i++) {
      const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
      sum += weight * of(from + i * step);
    }
    return (sum * step) / 3;
  };
  const reaching = (logRate: number) => density(logRate) * reachesLimit(way, Math.exp(logRate));
  return simpson(reaching, Math.max(slowest, Math.log(above))) / simpson(density, slowest);
}

describe("reachingAbove(parameters, way)", () => {
  it("agrees to 1e-7 with a fine sum over the logarithms of the rates, from all rates to the last in a million", () => {
    for (const parameters of DISTRIBUTIONS) {
      const { family, location, spread } = parameters;
      for (const exponent of [0.8, 1, 1.4]) {
        for (const hazardPerHour of [1e-6, 1e-4, 2e-3]) {
          const way = { toLimitMm: 0.49, exponent, hazardPerHour };
          const above = reachingAbove(parameters, way);
          for (const z of [-20, -1, 0.3, 2, 4.75]) {
            const at = location + spread * z;
            const rate = family === "lognormal" ? Math.exp(at) : Math.max(at, 1e-12);
            expect(above(rate) / bySteps(parameters, way, rate), `${family} ${spread} ${z}`).toBeCloseTo(
              1,
              6.7,
            );
          }
        }
      }
    }
  });

  it("answers the same of parameters whose curves are kept, for each way there", () => {
    const parameters = rates("lognormal", -2, 0.35);
    const kept = keepCurvesOf(parameters);
    for (const hazardPerHour of [1e-4, 2e-4, 1e-4]) {
      const way = { toLimitMm: 0.49, exponent: 1, hazardPerHour };
      expect(reachingAbove(kept, way)(0.2)).toBe(reachingAbove(parameters, way)(0.2));
    }
  });

  it("falls on past where any component could be, and is nothing where none reaches the limit", () => {
    const parameters = rates("lognormal", -2, 0.35);
    const above = reachingAbove(parameters, { toLimitMm: 0.49, exponent: 1, hazardPerHour: 1e-4 });
    const farOut = [6, 9, 12].map((z) => above(Math.exp(-2 + 0.35 * z)));
    expect(farOut[1]).toBeLessThan(1e-8 * farOut[0]!);
    expect(farOut[2]).toBeLessThan(1e-8 * farOut[1]!);
    expect(farOut[2]).toBeGreaterThan(0);
    const never = reachingAbove(parameters, { toLimitMm: 0.49, exponent: 1, hazardPerHour: 1e4 });
    expect([never(0), never(0.2)]).toEqual([0, 0]);
  });
});
