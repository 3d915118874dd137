import { describe, expect, it } from "vitest";
import { chiSquaredCdf } from "../../src/math/distributions.ts";
import { centralGradient, minimise } from "../../src/math/minimise.ts";
import { borrowedSpread } from "../../src/wear/borrowed-spread.ts";
import { fitFamily } from "../../src/wear/decision-fit.ts";
import type { DecisionData } from "../../src/wear/decision-likelihood.ts";
import { likelihoodRegion } from "../../src/wear/likelihood-region.ts";
import { evenSpread, pooledSpread, SHARED, type SpreadLender } from "../../src/wear/pooled-spread.ts";
import { rateQuantile } from "../../src/wear/rate-families.ts";
import { simulateWear, type WearTruth } from "./simulate-wear.ts";

/** Aircraft of several groups are different ones. */
const apartFrom = (data: DecisionData, group: number): DecisionData => ({
  ...data,
  aircraft: data.aircraft.map((number) => number + 1000 * group),
});
const group = (truth: WearTruth, number: number) => apartFrom(simulateWear(truth), number);
function lender(data: DecisionData): SpreadLender {
  const found = fitFamily(data, "lognormal", "all");
  if (found.kind !== "fitted") throw new Error("no fit");
  return { data, fit: found.fit };
}
function pooled(lenders: readonly SpreadLender[]) {
  const found = pooledSpread(lenders);
  if (found.kind === "none") throw new Error(found.why);
  return found;
}
function borrowed(own: DecisionData, lenders: readonly SpreadLender[]) {
  const found = borrowedSpread(own, pooled(lenders), lenders);
  if (found.kind === "none") throw new Error(found.why);
  return found;
}

const FIRST = { seed: 11, components: 24, medianRate: 0.25, fromNew: true, recordHours: 1800 };
const SECOND = { ...FIRST, seed: 12, components: 30, medianRate: 0.1 };
const LENDERS = [lender(group(FIRST, 1)), lender(group(SECOND, 2))];
const THIN = group({ ...FIRST, seed: 5, components: 6, medianRate: 0.3 }, 9);

describe("pooledSpread(lenders)", () => {
  it("of two equal groups is the fit of one, known twice as well", () => {
    const { data, fit } = LENDERS[0]!;
    const found = pooled([
      { data, fit },
      { data: apartFrom(data, 5), fit },
    ]);
    for (const k of SHARED) expect(found.theta[k]).toBeCloseTo(fit.theta[k]!, 4);
    expect(found.spreadP).toBe(1);
    expect(found.allP).toBeGreaterThan(0.999);
    expect(found.covariance[24]! / fit.covariance[24]!).toBeCloseTo(0.5, 2);
  });

  it("lies where the likelihoods together have no slope", () => {
    const { theta } = pooled(LENDERS);
    const slope = new Float64Array(5);
    for (const { fit } of LENDERS) {
      // Each lender at its own best mean rate.
      const at = minimise(
        (x) => -fit.likelihood.value(theta.map((v, k) => (k === 3 ? x[0]! : v))),
        [fit.theta[3]!],
      ).at[0]!;
      const own = fit.likelihood.gradient(theta.map((v, k) => (k === 3 ? at : v)));
      for (const k of SHARED) slope[k]! += own[k]!;
    }
    // A step of one standard error would gain less than a hundredth.
    const { covariance } = pooled(LENDERS);
    for (const k of SHARED) expect(Math.abs(slope[k]! * Math.sqrt(covariance[6 * k]!))).toBeLessThan(0.01);
  });

  it("the parabola in the spread's power −2/3 follows the true likelihood to two standard errors", () => {
    const { theta, covariance } = pooled(LENDERS);
    const fall = (spread: number) => {
      // Everything else at its best, group by group for the mean rate.
      const at = (x: Float64Array) =>
        LENDERS.reduce((sum, { fit }, g) => {
          const [a, omega, first, second] = x;
          const location = g === 0 ? first! : second!;
          return sum - fit.likelihood.value([theta[0]! + a! / 100, theta[1]!, omega!, location, spread]);
        }, 0);
      const start = [0, theta[2]!, LENDERS[0]!.fit.theta[3]!, LENDERS[1]!.fit.theta[3]!];
      return minimise(at, start).value;
    };
    const best = fall(theta[4]!);
    const middle = evenSpread(theta[4]!);
    const error = Math.sqrt(covariance[24]!) * Math.abs(middle.bySpread);
    for (const errors of [-2, 2]) {
      const spread = (middle.value + errors * error) ** -1.5;
      const root = Math.sqrt(2 * (fall(spread) - best));
      expect(root).toBeGreaterThan(1.85);
      expect(root).toBeLessThan(2.15);
    }
  });

  it("by hand: where scatter is next to nothing, the test of equal spreads is that of two normal samples", () => {
    const exact = { ...FIRST, interceptMm: 0, interceptSdMm: 1e-5, scatterMm: 1e-4 };
    const two = [group(exact, 1), group({ ...exact, seed: 12, components: 30, spread: 0.55 }, 2)];
    const found = pooled(two.map(lender));
    const logs = two.map(({ sums }) =>
      Array.from(sums.meanWearMm, (wear, i) => Math.log(wear / sums.meanHours[i]!)),
    );
    const variance = (values: readonly number[]) => {
      const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
      return values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length;
    };
    const n = logs.map((values) => values.length);
    const all = logs.reduce((sum, values) => sum + values.length * variance(values), 0) / (n[0]! + n[1]!);
    const statistic = logs.reduce((sum, values) => sum + values.length * Math.log(all / variance(values)), 0);
    const p = 1 - chiSquaredCdf(statistic, 1);
    // The parabola's p, and of the two scales the smaller one.
    expect(found.spreadP / p).toBeGreaterThan(0.9);
    expect(found.spreadP / p).toBeLessThan(1.05);
    expect(found.theta[4]).toBeCloseTo(Math.sqrt(all), 2);
  });

  it("rejects groups of different spreads", () => {
    const { spreadP } = pooled([LENDERS[0]!, lender(group({ ...SECOND, spread: 0.08 }, 2))]);
    expect(spreadP).toBeLessThan(0.001);
  });
});

describe("borrowedSpread(own, pooled, lenders)", () => {
  it("by hand: where scatter is next to nothing, the mean of log rates, known to spread/√n times Student's t", () => {
    const exact = { ...FIRST, interceptMm: 0, interceptSdMm: 1e-5, scatterMm: 1e-4 };
    const lenders = [lender(group(exact, 1)), lender(group({ ...exact, seed: 12, components: 40 }, 2))];
    const own = group({ ...exact, seed: 4, components: 5 }, 9);
    const logs = Array.from(own.sums.meanWearMm, (wear, i) =>
      Math.log((1000 * wear) / own.sums.meanHours[i]!),
    );
    const mean = logs.reduce((sum, v) => sum + v, 0) / 5;
    const fit = borrowed(own, lenders).fitFor(0.95);
    expect(fit.theta[3]).toBeCloseTo(mean, 2);
    const squares = logs.reduce((sum, v) => sum + (v - mean) ** 2, 0);
    // Five aircraft of one component each: the sandwich is their own variance, where that is the larger.
    const spread = fit.parameters.spread;
    const inflation = Math.max(1, ((squares / spread ** 2) * (1 / 5) * 5) / 4);
    // t (0.95; 4) = 2.1318 against that of the lenders' 64 aircraft, 1.6694.
    const expected = (spread ** 2 / 5) * inflation * (2.131847 / 1.669402) ** 2;
    expect(fit.covariance[18]! / expected).toBeGreaterThan(0.97);
    expect(fit.covariance[18]! / expected).toBeLessThan(1.03);
  });

  it("has the slope that its likelihood has, and its best where there is none", () => {
    const { likelihood, theta } = borrowed(THIN, LENDERS).fitFor(0.95);
    expect(likelihood.value(theta)).toBeCloseTo(0, 12);
    for (const off of [0, 0.05, -0.04]) {
      const at = theta.map((value, k) => value + off * [0.02, 1, 0.3, 1, 0.5][k]!);
      const numeric = centralGradient((x) => likelihood.value(x), at);
      for (const [k, slope] of likelihood.gradient(at).entries())
        expect(Math.abs(slope - numeric[k]!)).toBeLessThan(1e-3 * (1 + Math.abs(slope)));
    }
  });

  it("does not depend on the order of the lenders", () => {
    const [forth, back] = [borrowed(THIN, LENDERS), borrowed(THIN, [...LENDERS].reverse())];
    const upper = (found: typeof forth) =>
      likelihoodRegion(found.fitFor(0.95), 0.95).bound((p) => rateQuantile(p, 0.99), "upper").upper;
    expect(upper(forth) / upper(back)).toBeCloseTo(1, 2);
    expect(forth.ownP).toBeCloseTo(back.ownP, 3);
  });

  it("widens with fewer aircraft and with greater confidence", () => {
    const width = (aircraft: number, confidence: number) => {
      const own = { ...THIN, aircraft: THIN.aircraft.map((_, i) => 9000 + (i % aircraft)) };
      return borrowed(own, LENDERS).fitFor(confidence).covariance[18]!;
    };
    expect(width(3, 0.95)).toBeGreaterThan(width(6, 0.95));
    expect(width(6, 0.99)).toBeGreaterThan(width(6, 0.95));
  });

  it("is rejected by own readings that are spread otherwise", () => {
    expect(borrowed(THIN, LENDERS).ownP).toBeGreaterThan(0.05);
    const wild = group({ ...FIRST, seed: 3, components: 8, medianRate: 0.3, spread: 1.2 }, 9);
    expect(borrowed(wild, LENDERS).ownP).toBeLessThan(0.01);
  });
});
