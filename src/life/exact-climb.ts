/**
 * The top of a Weibull log-likelihood of exact events and running lives, all followed from new. At every shape the best scale is
 * known, so the search is for the shape alone: the zero of 1/shape + (mean log of events) - S1/S0, which falls throughout, with
 * Sk the sum over lives of l^k exp(shape l), l = log hours less the centre. One exponential a life gives all four sums, and
 * their derivatives by the shape are the sums themselves: each step triples the right digits (Halley's), and the sums at the
 * end of a short last step need no pass of their own.
 * Sources: Lawless (2003), Statistical Models and Methods for Lifetime Data, 2nd ed., section 5.2 (section from memory); Traub
 * (1964), Iterative Methods for the Solution of Equations, section 5.2, for Halley's step (section from memory).
 */
import type { WeibullLikelihood } from "./likelihood-terms.ts";
import { type Climb, SHAPE_CEILING, SHAPE_FLOOR } from "./weibull-climb.ts";
import { exactPart } from "./weibull-likelihood.ts";

/** After a step this small, relative to the shape, all digits are right. */
const SMALL = 1e-5;

/** @returns null where it does not end in sight of finite sums: the search that can tell why is weibull-climb.ts */
export function climbOfExact(data: WeibullLikelihood, startBeta: number): Climb | null {
  const meanLog = data.sumLogExact / data.exact;
  let [below, above] = [SHAPE_FLOOR, SHAPE_CEILING];
  let beta = startBeta;
  for (let iteration = 1; iteration <= 60; iteration++) {
    const sums = hazardSums(data, beta);
    const [mean, square, cube] = [sums[1] / sums[0], sums[2] / sums[0], sums[3] / sums[0]];
    const score = 1 / beta + meanLog - mean;
    const slope = -1 / (beta * beta) - (square - mean * mean);
    const bend = 2 / (beta * beta * beta) - (cube - 3 * square * mean + 2 * mean * mean * mean);
    if (!Number.isFinite(score) || !Number.isFinite(bend)) return null;
    if (score > 0) below = beta;
    else above = beta;
    // Far off, the curvature may point the wrong way: then Newton's step, which never does.
    const curved = 2 * slope * slope - score * bend;
    const step = curved > slope * slope ? (-2 * score * slope) / curved : -score / slope;
    if (Math.abs(step) <= SMALL * beta) return topAt(data, beta + step, movedBy(step, sums), iteration);
    const next = Math.min(Math.max(beta + step, beta / 4), 4 * beta);
    beta = next > below && next < above ? next : (below + above) / 2;
  }
  return null;
}

type Sums = readonly [number, number, number, number];

function hazardSums({ hazardLog, hazardWeight }: WeibullLikelihood, beta: number): Sums {
  let sum = 0;
  let sumLog = 0;
  let sumSquare = 0;
  let sumCube = 0;
  for (let k = 0; k < hazardLog.length; k++) {
    const l = hazardLog[k]!;
    const h = -hazardWeight[k]! * Math.exp(beta * l);
    const square = h * l * l;
    sum += h;
    sumLog += h * l;
    sumSquare += square;
    sumCube += square * l;
  }
  return [sum, sumLog, sumSquare, sumCube];
}

/** The first three sums at a shape a little further on. */
const movedBy = (
  step: number,
  [sum, sumLog, sumSquare, sumCube]: Sums,
): readonly [number, number, number] => [
  sum + step * (sumLog + (step / 2) * (sumSquare + (step / 3) * sumCube)),
  sumLog + step * (sumSquare + (step / 2) * sumCube),
  sumSquare + step * sumCube,
];

/** At its best scale the lives' hazards add up to the number of events. */
function topAt(
  data: WeibullLikelihood,
  beta: number,
  [sum, sumLog, sumSquare]: readonly [number, number, number],
  iterations: number,
): Climb | null {
  const events = data.exact;
  const alpha = Math.log(events / sum);
  const logLikelihood = exactPart(data, alpha, beta) - events;
  if (!Number.isFinite(logLikelihood)) return null;
  const before = {
    value: logLikelihood,
    gradAlpha: 0,
    gradBeta: 0,
    hessAlphaAlpha: -events,
    hessAlphaBeta: (-events * sumLog) / sum,
    hessBetaBeta: -events / (beta * beta) - (events * sumSquare) / sum,
  };
  return { kind: "top", alpha, beta, logLikelihood, before, lastStep: 0, iterations };
}
