/**
 * How far the log-likelihood may fall within a one-sided bound, made right for few components.
 *
 * The plain threshold is the χ²₁ quantile of 2C − 1, which is right for many components and too narrow for few. Where
 * rates are seen without error and are normal (or lognormal), the exact one-sided bound of a quantile is known: the
 * tolerance bound mean + k·SD with k from the noncentral t. The threshold returned is the one at which the likelihood
 * ratio gives just that bound, the widest over the quantiles that risks depend on.
 * Source: the tolerance factor as in Hahn and Meeker (1991), Statistical Intervals, section 4.4 (from memory); checked
 * against R's qt(…, ncp).
 */
import gammaln from "@stdlib/math-base-special-gammaln";
import { chiSquaredQuantile, standardNormalQuantile } from "../math/distributions.ts";
import { findRoot } from "../math/find-root.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";

/** Quantiles of the rates for which the threshold is to be right. */
const QUANTILES = [0.5, 0.9, 0.99, 0.999];

/** The plain threshold: χ²₁ quantile of 2C − 1. */
export const plainThreshold = (confidence: number): number => chiSquaredQuantile(2 * confidence - 1, 1);

/** The threshold of 2·(log-likelihood drop) for a one-sided bound from n components; never below the plain one. */
export function boundThreshold(components: number, confidence: number): number {
  const key = `${components} ${confidence}`;
  const ready = known.get(key);
  if (ready !== undefined) return ready;
  const exact = QUANTILES.map((p) => thresholdOf(components, p, confidence));
  const threshold = Math.max(plainThreshold(confidence), ...exact);
  known.set(key, threshold);
  return threshold;
}

/** Thresholds found already: groups of one size and reviews of one confidence ask again and again. */
const known = new Map<string, number>();

/** 2·(drop) at which the likelihood-ratio bound of the p quantile of n normal values is the exact tolerance bound. */
function thresholdOf(n: number, p: number, confidence: number): number {
  const z = standardNormalQuantile(p);
  // In units of the sample's SD (with n − 1) and from its mean.
  const bound = toleranceFactor(n, p, confidence);
  const variance = (n - 1) / n;
  // Least of n·log s² + n(v + m²)/s² over s, with m = bound − z·s: a cubic's root, found on its derivative.
  const slope = (s: number) => {
    const m = bound - z * s;
    return s * s - (variance + m * m) - z * m * s;
  };
  const root = findRoot(slope, 1e-6, 10 + bound);
  if (root.kind !== "found") throw new Error(`no likelihood-ratio threshold for ${n} components`);
  const s = root.at;
  const m = bound - z * s;
  return n * (Math.log((s * s) / variance) + (variance + m * m) / (s * s) - 1);
}

/**
 * k with P(mean + k·SD ≥ p quantile) = confidence for n normal values, by integrating over the chi-distributed SD.
 */
export function toleranceFactor(n: number, p: number, confidence: number): number {
  const z = standardNormalQuantile(p);
  const nu = n - 1;
  const logConstant = Math.log(2) + (nu / 2) * Math.log(nu / 2) - gammaln(nu / 2);
  // Simpson's rule for E Φ(√n(k·S − z)), S² ~ χ²_ν/ν, over ten standard deviations of S.
  const width = 10 / Math.sqrt(2 * nu);
  const from = Math.max(1e-9, 1 - width);
  const steps = 400;
  const step = (1 + width - from) / steps;
  const at = Float64Array.from({ length: steps + 1 }, (_, i) => from + step * i);
  const weights = at.map((s, i) => {
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    return (weight * step * Math.exp(logConstant + (nu - 1) * Math.log(s) - (nu * s * s) / 2)) / 3;
  });
  const covered = (k: number) => {
    let sum = 0;
    for (let i = 0; i <= steps; i++) sum += weights[i]! * tabulatedNormalCdf(Math.sqrt(n) * (k * at[i]! - z));
    return sum;
  };
  const root = findRoot((k) => covered(k) - confidence, -5, 60, 1e-10);
  if (root.kind !== "found") throw new Error(`no tolerance factor for ${n} values`);
  return root.at;
}
