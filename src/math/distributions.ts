/**
 * Thin, typed doors to the @stdlib distribution functions, so that the rest of the program names one module.
 *
 * Two weak spots of the libraries are avoided here: the normal quantile in the far lower tail is taken from the
 * upper tail by symmetry, and the Weibull quantile is never used (see life/weibull.ts).
 * Checked: tests/math/distributions.test.ts against R 4.2.
 */
import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import chisquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import chisquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import normalLogCdf from "@stdlib/stats-base-dists-normal-logcdf";
import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import poissonCdf from "@stdlib/stats-base-dists-poisson-cdf";
import tQuantile from "@stdlib/stats-base-dists-t-quantile";

/** P(Z <= z) for a standard normal Z. */
export const standardNormalCdf = (z: number): number => normalCdf(z, 0, 1);

/** log P(Z <= z); keeps its digits far into the lower tail. */
export const logStandardNormalCdf = (z: number): number => normalLogCdf(z, 0, 1);

/** The z with P(Z <= z) = p, 0 < p < 1. */
export const standardNormalQuantile = (p: number): number => normalQuantile(p, 0, 1);

/** The t with P(T <= t) = p for Student's t with `degreesOfFreedom`. */
export const studentQuantile = (p: number, degreesOfFreedom: number): number =>
  tQuantile(p, degreesOfFreedom);

/** P(X <= x) for chi-squared with `degreesOfFreedom`. */
export const chiSquaredCdf = (x: number, degreesOfFreedom: number): number =>
  chisquareCdf(x, degreesOfFreedom);

/** The x with P(X <= x) = p for chi-squared with `degreesOfFreedom`. */
export const chiSquaredQuantile = (p: number, degreesOfFreedom: number): number =>
  chisquareQuantile(p, degreesOfFreedom);

/** The x with P(X <= x) = p for a beta distribution. */
export const betaQuantileAt = (p: number, alpha: number, beta: number): number =>
  betaQuantile(p, alpha, beta);

/** P(X <= k) for Poisson counts with the given mean. */
export const poissonCumulative = (k: number, mean: number): number => (mean === 0 ? 1 : poissonCdf(k, mean));

/** P(X <= k) for k successes in n trials of chance p. */
export const binomialCumulative = (k: number, n: number, p: number): number => binomialCdf(k, n, p);
