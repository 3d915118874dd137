/**
 * A distribution of rates for a group too thin for one of its own: spread and scatter from the part's other groups
 * (pooled-spread.ts), the mean rate from its own components.
 *
 * The likelihood handed on is a parabola: what the lenders know of the shared part, and how well the group's own readings
 * know its mean rate where the shared part is given. Its variance of the mean is widened for aircraft that are alike, by
 * the group's own sandwich, and at least by the likeness that the lenders show, with Student's t of the group's aircraft.
 * So bounds come from the same region as any group's (likelihood-region.ts).
 *
 * Besides the lenders' tests the group's own readings must not reject it: spread and scatter of their own against the
 * shared ones, likelihood ratio with 2 degrees of freedom (the shared ones taken as known, which rejects too often rather
 * than too rarely). Wear is taken as straight, rates as lognormal. Checked: tests/wear/borrowed-spread.test.ts.
 */
import { inverse, Matrix } from "ml-matrix";
import { chiSquaredCdf, studentQuantile } from "../math/distributions.ts";
import { centralHessian, minimiseWithGradient } from "../math/minimise.ts";
import { clusterNumbers, invertInformation } from "./aircraft-clusters.ts";
import { componentRates } from "./component-rates.ts";
import type { RateFit } from "./decision-fit.ts";
import {
  type DecisionData,
  type DecisionLikelihood,
  decisionLikelihood,
  PARAMETERS,
  parametersOf,
} from "./decision-likelihood.ts";
import { evenSpread, type PooledSpread, SHARED, type SpreadLender } from "./pooled-spread.ts";

const LOCATION = 3;
const SPREAD = 4;
const AT_LOCATION = LOCATION * PARAMETERS + LOCATION;

export interface BorrowedSpread {
  readonly kind: "spread";
  /** p that the group's own readings have the shared spread and scatter. */
  readonly ownP: number;
  /**
   * As any group's fit, for one-sided bounds at a confidence: Student's t is in it. `components` and `aircraft` are the
   * lenders', since they tell the spread.
   */
  readonly fitFor: (confidence: number) => RateFit;
}

export type BorrowedSpreadOutcome = BorrowedSpread | { readonly kind: "none"; readonly why: string };

/** @param own  the thin group; aircraft have one number in its data and in all lenders' */
export function borrowedSpread(
  own: DecisionData,
  pooled: PooledSpread,
  lenders: readonly SpreadLender[],
): BorrowedSpreadOutcome {
  const alone = decisionLikelihood(own, "lognormal");
  const step = stepsFrom(own, pooled);
  const theta = climb(alone, startFrom(own, pooled), step, [LOCATION]);
  if (theta === null) return { kind: "none", why: "the search for the group's mean rate did not end" };
  const minus = (at: Float64Array) => alone.gradient(at).map((value) => -value);
  const hessian = centralHessian(() => Number.NaN, theta, minus);
  const known = hessian[AT_LOCATION]!;
  if (!(known > 0)) return { kind: "none", why: "the group's own readings don't tell its mean rate" };
  const mean = {
    precision: known / inflationOf(own, alone.scores(theta), known, lenders),
    // How the best mean rate moves with each shared parameter.
    follows: SHARED.map((k) => -hessian[k * PARAMETERS + LOCATION]! / known),
  };
  const ownAircraft = clusterNumbers(own.aircraft).count;
  return {
    kind: "spread",
    ownP: ownTest(alone, theta, step),
    fitFor: (confidence) => {
      // The region widens by Student's t of the lenders' aircraft; the mean rests on the group's few.
      const t = (aircraft: number) => studentQuantile(confidence, Math.max(FEWEST_AIRCRAFT, aircraft) - 1);
      const few = Math.max(1, t(ownAircraft) / t(pooled.aircraft)) ** 2;
      const likelihood = parabola(theta, pooled, { ...mean, precision: mean.precision / few }, alone);
      return fitOf(own, theta, step, likelihood, pooled);
    },
  };
}

/** As likelihood-region.ts reckons: fewer aircraft can't tell how alike their components are. */
const FEWEST_AIRCRAFT = 3;

function fitOf(
  own: DecisionData,
  theta: Float64Array,
  step: Float64Array,
  likelihood: DecisionLikelihood,
  pooled: PooledSpread,
): RateFit {
  const minus = (at: Float64Array) => likelihood.gradient(at).map((value) => -value);
  const covariance = invertInformation(
    centralHessian(() => Number.NaN, theta, minus),
    step,
  );
  if (covariance === null) throw new Error("a parabola has a covariance");
  return {
    family: "lognormal",
    sample: "all",
    components: pooled.components,
    readings: own.sums.readings,
    aircraft: pooled.aircraft,
    enteredLate: own.entryHours.filter((hours) => hours > 0).length,
    parameters: parametersOf("lognormal", theta),
    logLikelihood: 0,
    aic: Number.NaN,
    theta,
    covariance,
    // What aircraft do is in the parabola already.
    clusterCovariance: covariance,
    likelihood,
    cautions: [],
  };
}

/** What is known of the group's mean rate where the shared part is given. */
interface KnownMean {
  readonly precision: number;
  readonly follows: readonly number[];
}

/** The log-likelihood, 0 at θ's best, as the sum of two parabolas. */
function parabola(
  best: Float64Array,
  { covariance, clusterInflation }: PooledSpread,
  { precision, follows }: KnownMean,
  own: DecisionLikelihood,
): DecisionLikelihood {
  const middle = evenSpread(best[SPREAD]!);
  const size = SHARED.length;
  const even = (k: number) => (k === SPREAD ? middle.bySpread : 1);
  const sharedCovariance = SHARED.map((i) =>
    SHARED.map((k) => covariance[i * PARAMETERS + k]! * even(i) * even(k) * clusterInflation),
  );
  const information = inverse(new Matrix(sharedCovariance)).to1DArray();
  const parts = (theta: ArrayLike<number>) => {
    const off = SHARED.map((k) =>
      k === SPREAD ? evenSpread(theta[k]!).value - middle.value : theta[k]! - best[k]!,
    );
    const slopes = off.map((_, i) => off.reduce((sum, v, j) => sum + information[i * size + j]! * v, 0));
    const raw = SHARED.map((k) => (k === SPREAD ? Math.abs(theta[k]!) : theta[k]!) - best[k]!);
    const mean = theta[LOCATION]! - best[LOCATION]! - raw.reduce((sum, v, j) => sum + follows[j]! * v, 0);
    return { off, slopes, mean };
  };
  const evaluate = (theta: ArrayLike<number>, gradient: Float64Array) => {
    const { off, slopes, mean } = parts(theta);
    gradient[LOCATION] = -precision * mean;
    for (const [j, k] of SHARED.entries()) {
      const turned = k === SPREAD && theta[k]! < 0 ? -1 : 1;
      const scale = k === SPREAD ? evenSpread(theta[k]!).bySpread : 1;
      gradient[k] = turned * (precision * mean * follows[j]! - slopes[j]! * scale);
    }
    return -0.5 * (off.reduce((sum, v, i) => sum + v * slopes[i]!, 0) + precision * mean * mean);
  };
  return {
    ...own,
    evaluate,
    value: (theta) => evaluate(theta, new Float64Array(PARAMETERS)),
    gradient: (theta) => {
      const gradient = new Float64Array(PARAMETERS);
      evaluate(theta, gradient);
      return gradient;
    },
  };
}

/** What is shared, and the mean of the components' own log rates. */
function startFrom(own: DecisionData, { theta }: PooledSpread): Float64Array {
  const { rateMmPer1000Hours: rates } = componentRates(own, parametersOf("lognormal", theta));
  const mean = rates.reduce((sum, rate) => sum + Math.log(rate), 0) / rates.length;
  return theta.map((value, k) => (k === LOCATION ? mean : value));
}

/** About a standard error each. */
const stepsFrom = (own: DecisionData, { theta, covariance }: PooledSpread): Float64Array =>
  theta.map((_, k) =>
    k === LOCATION
      ? Math.abs(theta[SPREAD]!) / Math.sqrt(own.sums.components)
      : Math.sqrt(covariance[k * PARAMETERS + k]!),
  );

/** Maximum over some places of θ, from a start; null where the search did not end. */
function climb(
  likelihood: DecisionLikelihood,
  start: Float64Array,
  step: Float64Array,
  places: readonly number[],
): Float64Array | null {
  const at = (x: Float64Array) => {
    const theta = Float64Array.from(start);
    for (const [j, k] of places.entries()) theta[k]! += x[j]! * step[k]!;
    return theta;
  };
  const all = new Float64Array(PARAMETERS);
  const cost = (x: Float64Array, gradient: Float64Array) => {
    const value = likelihood.evaluate(at(x), all);
    for (const [j, k] of places.entries()) gradient[j] = -all[k]! * step[k]!;
    return -value;
  };
  const found = minimiseWithGradient(cost, new Float64Array(places.length), {
    tolerance: 1e-10,
    maxIterations: 200,
  });
  const ended = found.kind === "found" || found.gradient.every((g) => Math.abs(g) < 1e-3);
  return ended ? at(found.at) : null;
}

/** A search that does not end (readings that lie on a line to the last digit) leaves nothing to borrow by: p 0. */
function ownTest(alone: DecisionLikelihood, shared: Float64Array, step: Float64Array): number {
  const free = climb(alone, shared, step, [2, LOCATION, SPREAD]);
  if (free === null) return 0;
  return 1 - chiSquaredCdf(Math.max(0, 2 * (alone.value(free) - alone.value(shared))), 2);
}

/**
 * How much aircraft that are alike inflate the mean's variance, never below 1: by the sandwich over the group's own
 * aircraft, which so few often show too little of by luck, so at least by the likeness that the lenders show.
 */
function inflationOf(
  own: DecisionData,
  scores: Float64Array,
  information: number,
  lenders: readonly SpreadLender[],
): number {
  const { of, count } = clusterNumbers(own.aircraft);
  const sums = new Float64Array(count);
  for (const [i, cluster] of of.entries()) sums[cluster]! += scores[i * PARAMETERS + LOCATION]!;
  const squares = sums.reduce((sum, score) => sum + score * score, 0);
  const seen = ((squares / information) * count) / Math.max(1, count - 1);
  return Math.max(1, seen, 1 + (metPerAircraft(own.aircraft) - 1) * likeness(lenders));
}

/** Components met on a component's own aircraft, itself included, on average. */
function metPerAircraft(aircraft: Int32Array): number {
  const { of, count } = clusterNumbers(aircraft);
  const sizes = new Float64Array(count);
  for (const cluster of of) sizes[cluster]!++;
  return sizes.reduce((sum, size) => sum + size * size, 0) / aircraft.length;
}

/** Correlation of rates within aircraft that the lenders' two covariances imply, 0 to 1, weighed by components. */
function likeness(lenders: readonly SpreadLender[]): number {
  let sum = 0;
  let weights = 0;
  for (const { fit, data } of lenders) {
    const more = metPerAircraft(data.aircraft) - 1;
    if (!(more > 0)) continue;
    const correlation = (fit.clusterCovariance[AT_LOCATION]! / fit.covariance[AT_LOCATION]! - 1) / more;
    sum += fit.components * Math.min(1, Math.max(0, correlation));
    weights += fit.components;
  }
  return weights > 0 ? sum / weights : 0;
}
