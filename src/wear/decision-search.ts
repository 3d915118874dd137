/**
 * The search for the decision fit's maximum: BFGS in steps of about a standard error each. A large group is first searched
 * by a part of its components, whose optimum and information are a start so near that few passes over all are left.
 */
import { centralHessian, minimiseWithGradient } from "../math/minimise.ts";
import { invertInformation } from "./aircraft-clusters.ts";
import { type ComponentSums, selectComponents } from "./component-sums.ts";
import {
  type DecisionData,
  type DecisionLikelihood,
  decisionLikelihood,
  PARAMETERS,
} from "./decision-likelihood.ts";
import { startingTheta } from "./decision-start.ts";
import type { RateFamily } from "./rate-families.ts";

export interface Maximum {
  readonly theta: Float64Array;
  readonly logLikelihood: number;
  /** Inverse of the observed information, 5 × 5 row-major. */
  readonly covariance: Float64Array;
}

/** From this many components on, a part of them is searched first: about so many. */
const LARGE = 300;
const PART = 150;

/** Scaled gradients below this count as none: a step of a standard error would then gain less than a thousandth. */
const SMALL_GRADIENT = 1e-3;

/** Where |sin 2φ| is no larger, the angle is near none or a right one, where the likelihood has no slope in it. */
const VAGUE_ANGLE = 0.3;

/** The maximum of a group's likelihood; null where no search ended, or the likelihood has no second derivatives there. */
export function maximiseDecision(
  data: DecisionData,
  family: RateFamily,
  likelihood: DecisionLikelihood,
): Maximum | null {
  const first = startingTheta(data, family);
  const step = stepsOf(first, data.sums);
  const near = data.sums.components < LARGE ? null : startFromPart(data, family, step);
  const nearby = near === null ? null : climb(likelihood, near.theta, step, TIGHT, near.inverse);
  const found = nearby ?? fromTwoStarts(likelihood, first, step);
  if (found === null) return null;
  const theta = inFirstQuadrant(found.theta);
  const covariance = informationInverse(likelihood, theta, step);
  if (covariance === null) return null;
  if (nearby !== null) return polished(likelihood, theta, covariance);
  return { theta, logLikelihood: likelihood.value(theta), covariance };
}

/** A search stops where a step promises less than this share of the log-likelihood; one with a near start can afford less. */
const TOLERANCE = 1e-10;
const TIGHT = 1e-12;

/** Signs of the spread and the angle's quadrant carry no meaning. */
function inFirstQuadrant(theta: Float64Array): Float64Array {
  const angle = Math.atan2(Math.abs(Math.sin(theta[1]!)), Math.abs(Math.cos(theta[1]!)));
  return theta.map((value, k) => (k === 1 ? angle : k === 4 ? Math.abs(value) : value));
}

/** A last Newton step, since the information is known by then: kept where it gains. */
function polished(likelihood: DecisionLikelihood, theta: Float64Array, covariance: Float64Array): Maximum {
  const gradient = new Float64Array(PARAMETERS);
  const logLikelihood = likelihood.evaluate(theta, gradient);
  const moved = theta.map((value, i) =>
    gradient.reduce((sum, slope, k) => sum + covariance[i * PARAMETERS + k]! * slope, value),
  );
  const after = likelihood.value(moved);
  if (!(after > logLikelihood)) return { theta, logLikelihood, covariance };
  return { theta: inFirstQuadrant(moved), logLikelihood: after, covariance };
}

interface Climbed {
  readonly theta: Float64Array;
  readonly value: number;
}

/** From mostly scatter and, where the angle found there says little, from mostly offsets. */
function fromTwoStarts(
  likelihood: DecisionLikelihood,
  start: Float64Array,
  step: Float64Array,
): Climbed | null {
  const first = climb(likelihood, start, step, TOLERANCE);
  if (first !== null && !isVague(first.theta)) return first;
  const second = climb(likelihood, withAngle(start, MOSTLY_OFFSETS), step, TOLERANCE);
  if (first === null || second === null) return first ?? second;
  return second.value > first.value + 1e-6 ? second : first;
}

const MOSTLY_OFFSETS = 1.1;

const isVague = (theta: Float64Array): boolean => Math.abs(Math.sin(2 * theta[1]!)) <= VAGUE_ANGLE;

const withAngle = (theta: Float64Array, angle: number): Float64Array =>
  theta.map((value, k) => (k === 1 ? angle : value));

/** One search; null where it did not end. */
function climb(
  likelihood: DecisionLikelihood,
  start: Float64Array,
  step: Float64Array,
  tolerance: number,
  inverse?: Float64Array,
): Climbed | null {
  const at = (x: Float64Array) => start.map((value, k) => value + x[k]! * step[k]!);
  const cost = (x: Float64Array, gradient: Float64Array) => {
    const value = likelihood.evaluate(at(x), gradient);
    for (let k = 0; k < PARAMETERS; k++) gradient[k]! *= -step[k]!;
    return -value;
  };
  const found = minimiseWithGradient(cost, new Float64Array(PARAMETERS), {
    tolerance,
    maxIterations: 300,
    ...(inverse === undefined ? {} : { inverse }),
  });
  // A search can stop for want of digits where there is no slope left: that is an optimum all the same.
  const ended = found.kind === "found" || found.gradient.every((g) => Math.abs(g) < SMALL_GRADIENT);
  return ended ? { theta: at(found.at), value: -found.value } : null;
}

/** The optimum of every k-th component, and what that says of the bend at the optimum of all, in the steps given. */
function startFromPart(
  data: DecisionData,
  family: RateFamily,
  step: Float64Array,
): { readonly theta: Float64Array; readonly inverse?: Float64Array } | null {
  const every = Math.floor(data.sums.components / PART);
  const kept = Array.from({ length: Math.ceil(data.sums.components / every) }, (_, k) => k * every);
  const part = selectFrom(data, kept);
  const likelihood = decisionLikelihood(part, family);
  const first = startingTheta(part, family);
  const found = fromTwoStarts(likelihood, first, stepsOf(first, part.sums));
  if (found === null) return null;
  // All components may tell an angle where a part of them doesn't.
  if (isVague(found.theta)) return { theta: withAngle(found.theta, first[1]!) };
  const covariance = informationInverse(likelihood, found.theta, step);
  if (covariance === null) return { theta: found.theta };
  const share = kept.length / data.sums.components;
  const inverse = covariance.map(
    (value, k) => (share * value) / (step[Math.floor(k / PARAMETERS)]! * step[k % PARAMETERS]!),
  );
  return { theta: found.theta, inverse };
}

/** Inverse of the observed information, 5 × 5 row-major; null where the likelihood has no second derivatives. */
const informationInverse = (
  likelihood: DecisionLikelihood,
  theta: Float64Array,
  step: Float64Array,
): Float64Array | null =>
  invertInformation(
    centralHessian(
      () => Number.NaN,
      theta,
      (at) => likelihood.gradient(at).map((g) => -g),
    ),
    step,
  );

function stepsOf(start: Float64Array, sums: ComponentSums): Float64Array {
  const root = 1 / Math.sqrt(sums.components);
  const omega = Math.exp(start[2]!);
  const spread = Math.abs(start[4]!) * root;
  return Float64Array.of(
    omega * Math.max(root, 0.02),
    Math.min(1, 2 * root),
    1 / Math.sqrt(2 * sums.readings),
    spread,
    spread,
  );
}

/** The data of some components, by their places. */
export const selectFrom = (data: DecisionData, kept: readonly number[]): DecisionData => ({
  sums: selectComponents(data.sums, kept),
  entryHours: Float64Array.from(kept, (i) => data.entryHours[i]!),
  aircraft: Int32Array.from(kept, (i) => data.aircraft[i]!),
  replaceAtMm: data.replaceAtMm,
});
