/**
 * The spread of rates and the scatter of readings that groups of one part share, each with its own mean rate: the marginal
 * likelihoods of decision-likelihood.ts added, with one intercept, one scatter, one component offset and one spread of log
 * rates. What is shared is known from all lenders together, and handed on as a quadratic of the likelihood that remains
 * when each lender's mean rate is at its best: in the spread's power −2/3, in which the likelihood of a standard deviation
 * is nearly a parabola (Sprott 1973, Biometrika 60, 457-465, of a normal variance; from memory).
 *
 * Two tests must not reject it: one spread alone against one each (by that parabola), and all four shared against a fit for
 * each group (likelihood ratio). The smaller p counts.
 */
import { chiSquaredCdf } from "../math/distributions.ts";
import { centralHessian, minimiseWithGradient } from "../math/minimise.ts";
import { power } from "../math/power.ts";
import { clusterNumbers, invertInformation, sandwich } from "./aircraft-clusters.ts";
import type { RateFit } from "./decision-fit.ts";
import { type DecisionData, PARAMETERS } from "./decision-likelihood.ts";

/** A group with a lognormal fit of its own to all its components. */
export interface SpreadLender {
  readonly fit: RateFit;
  readonly data: DecisionData;
}

export interface PooledSpread {
  readonly kind: "pooled";
  /** θ of decision-likelihood.ts; its location is the first lender's. */
  readonly theta: Float64Array;
  /** Of the largest lender: what the spread is known from is no less. */
  readonly components: number;
  /** Covariance of what is shared, 5 × 5 row-major with nothing of worth in the location's row. */
  readonly covariance: Float64Array;
  /** How much aircraft that are alike inflate the spread's variance; never below 1. */
  readonly clusterInflation: number;
  /** Lenders' aircraft. */
  readonly aircraft: number;
  /** p that the spreads are equal, and that all that is shared is. */
  readonly spreadP: number;
  readonly allP: number;
}

export type PooledSpreadOutcome = PooledSpread | { readonly kind: "none"; readonly why: string };

/** What is shared, as places in θ; the mean rate (place 3) is each group's own. */
export const SHARED = [0, 1, 2, 4] as const;
const LOCATION = 3;
const SPREAD = 4;
/** Least angle that a search begins at: an offset a third as wide as the scatter. */
const LEAST_ANGLE = 0.3;

/** The spread in the power in which its likelihood is nearly a parabola, and how fast that moves with the spread. */
export const evenSpread = (spread: number): { value: number; bySpread: number } => {
  const s = Math.max(Math.abs(spread), 1e-6);
  return { value: power(s, -2 / 3), bySpread: (-2 / 3) * power(s, -5 / 3) };
};

const NOT_ENDED = { kind: "none", why: "the search for the groups' common spread did not end" } as const;

/** Fits what the lenders share; aircraft have one number in all lenders' data. */
export function pooledSpread(lenders: readonly SpreadLender[]): PooledSpreadOutcome {
  const thetas = maximiseTogether(lenders);
  if (thetas === null) return NOT_ENDED;
  const together = lenders.reduce((sum, { fit }, g) => sum + fit.likelihood.value(thetas[g]!), 0);
  const apart = lenders.reduce((sum, { fit }) => sum + fit.logLikelihood, 0);
  const free = lenders.length - 1;
  const { covariance, clusterInflation, aircraft } = whatIsKnown(lenders, thetas);
  if (covariance === null) return NOT_ENDED;
  const theta = thetas[0]!;
  if (!(Math.abs(theta[SPREAD]!) > 2 * Math.sqrt(covariance[SPREAD * PARAMETERS + SPREAD]!)))
    return { kind: "none", why: "the groups' common spread can't be told from none" };
  return {
    kind: "pooled",
    theta,
    components: Math.max(...lenders.map(({ fit }) => fit.components)),
    covariance,
    clusterInflation,
    aircraft,
    spreadP: 1 - chiSquaredCdf(differenceOfSpreads(lenders), free),
    allP: 1 - chiSquaredCdf(Math.max(0, 2 * (apart - together)), SHARED.length * free),
  };
}

/**
 * Squared distances of the spreads from their weighted mean, in standard errors: on the even scale or, where that is
 * larger, as they are, since a spread near none has no place on the even scale.
 */
function differenceOfSpreads(lenders: readonly SpreadLender[]): number {
  const distance = (pointOf: (fit: RateFit) => { value: number; bySpread: number }) => {
    const points = lenders.map(({ fit }) => {
      const { value, bySpread } = pointOf(fit);
      return { value, weight: 1 / (variance(fit, SPREAD) * bySpread ** 2) };
    });
    const weights = points.reduce((sum, { weight }) => sum + weight, 0);
    const mean = points.reduce((sum, { value, weight }) => sum + weight * value, 0) / weights;
    return points.reduce((sum, { value, weight }) => sum + weight * (value - mean) ** 2, 0);
  };
  return Math.max(
    distance(({ parameters }) => evenSpread(parameters.spread)),
    distance(({ parameters }) => ({ value: parameters.spread, bySpread: 1 })),
  );
}

const variance = (fit: RateFit, k: number): number => fit.covariance[k * PARAMETERS + k]!;
const precisionOf = (lenders: readonly SpreadLender[], k: number): number =>
  lenders.reduce((sum, { fit }) => sum + 1 / variance(fit, k), 0);

/** θ of each lender at the common maximum, in steps of about a standard error; null where the search did not end. */
function maximiseTogether(lenders: readonly SpreadLender[]): Float64Array[] | null {
  const precision = SHARED.map((k) => precisionOf(lenders, k));
  const start = SHARED.map(
    (k, j) => lenders.reduce((sum, { fit }) => sum + fit.theta[k]! / variance(fit, k), 0) / precision[j]!,
  );
  // At an angle of zero the likelihood has no slope, whichever way it bends.
  start[1] = Math.max(start[1]!, LEAST_ANGLE);
  const step = precision.map((value) => 1 / Math.sqrt(value));
  const thetasAt = (x: Float64Array) =>
    lenders.map(({ fit }, g) => {
      const theta = Float64Array.from(fit.theta);
      for (const [j, k] of SHARED.entries()) theta[k] = start[j]! + x[j]! * step[j]!;
      theta[LOCATION]! += x[SHARED.length + g]! * Math.sqrt(variance(fit, LOCATION));
      return theta;
    });
  const own = new Float64Array(PARAMETERS);
  const cost = (x: Float64Array, gradient: Float64Array) => {
    gradient.fill(0);
    let value = 0;
    for (const [g, theta] of thetasAt(x).entries()) {
      const { fit } = lenders[g]!;
      value -= fit.likelihood.evaluate(theta, own);
      for (const [j, k] of SHARED.entries()) gradient[j]! -= own[k]! * step[j]!;
      gradient[SHARED.length + g] = -own[LOCATION]! * Math.sqrt(variance(fit, LOCATION));
    }
    return value;
  };
  const found = minimiseWithGradient(cost, new Float64Array(SHARED.length + lenders.length), {
    tolerance: 1e-9,
    maxIterations: 100,
  });
  const ended = found.kind === "found" || found.gradient.every((g) => Math.abs(g) < 1e-3);
  return ended ? thetasAt(found.at) : null;
}

/** Information about what is shared, every lender's mean rate at its best, and the scores that go with it. */
function whatIsKnown(
  lenders: readonly SpreadLender[],
  thetas: readonly Float64Array[],
): { covariance: Float64Array | null; clusterInflation: number; aircraft: number } {
  const information = new Float64Array(PARAMETERS * PARAMETERS);
  information[LOCATION * PARAMETERS + LOCATION] = 1;
  const scores = lenders.flatMap(({ fit }, g) => {
    const theta = thetas[g]!;
    const minus = (at: Float64Array) => fit.likelihood.gradient(at).map((value) => -value);
    const hessian = centralHessian(() => Number.NaN, theta, minus);
    const at = (i: number, k: number) => hessian[i * PARAMETERS + k]!;
    const share = (k: number) => at(k, LOCATION) / at(LOCATION, LOCATION);
    for (const i of SHARED)
      for (const k of SHARED) information[i * PARAMETERS + k]! += at(i, k) - share(i) * at(LOCATION, k);
    const own = fit.likelihood.scores(theta);
    return Array.from(own, (score, at) => {
      const k = at % PARAMETERS;
      return k === LOCATION ? 0 : score - share(k) * own[at - k + LOCATION]!;
    });
  });
  const step = Float64Array.from({ length: PARAMETERS }, (_, k) =>
    k === LOCATION ? 1 : 1 / Math.sqrt(precisionOf(lenders, k)),
  );
  const covariance = invertInformation(information, step);
  const clusters = clusterNumbers(Int32Array.from(lenders.flatMap(({ data }) => [...data.aircraft])));
  if (covariance === null) return { covariance, clusterInflation: 1, aircraft: clusters.count };
  const clustered = sandwich(covariance, Float64Array.from(scores), clusters);
  const at = SPREAD * PARAMETERS + SPREAD;
  const clusterInflation = Math.max(1, clustered[at]! / covariance[at]!);
  return { covariance, clusterInflation, aircraft: clusters.count };
}
