/** The best point of a Weibull likelihood along a straight line in (alpha, beta): the inner search of every profile. */
import type { WeibullLikelihood } from "./likelihood-terms.ts";
import { type LikelihoodAt, likelihoodAt } from "./weibull-likelihood.ts";

export interface Point {
  readonly alpha: number;
  readonly beta: number;
}

export interface TopOnLine extends Point {
  readonly at: LikelihoodAt;
}

/**
 * A step that promises no more than this share of the log-likelihood needs no look at where it ends: value and slopes there follow
 * from the second derivatives to more digits than anybody asks for.
 */
const ON_TRUST = 1e-12;

/** The top of the log-likelihood on a line through `start`, by damped Newton in one variable. Beta stays positive. */
export function topOnLine(data: WeibullLikelihood, start: Point, direction: Point): TopOnLine {
  let { alpha, beta } = start;
  let at = likelihoodAt(data, alpha, beta);
  for (let i = 0; i < 100; i++) {
    const slope = direction.alpha * at.gradAlpha + direction.beta * at.gradBeta;
    const bend =
      direction.alpha ** 2 * at.hessAlphaAlpha +
      2 * direction.alpha * direction.beta * at.hessAlphaBeta +
      direction.beta ** 2 * at.hessBetaBeta;
    let step = bend < 0 ? -slope / bend : Math.sign(slope) * (direction.beta === 0 ? 1 : beta);
    const gain = Math.abs(step * slope);
    if (!Number.isFinite(step) || gain <= 1e-16 * (1 + Math.abs(at.value))) break;
    if (bend < 0 && gain <= ON_TRUST * (1 + Math.abs(at.value)) && beta + step * direction.beta > 0)
      return lastStep({ alpha, beta, at }, step * direction.alpha, step * direction.beta);
    if (direction.beta !== 0) step = Math.min(Math.max(step, -0.8 * beta), 4 * beta);
    else step = Math.min(Math.max(step, -10), 10);
    const slack = 1e-14 * (1 + Math.abs(at.value));
    let next = likelihoodAt(data, alpha + step * direction.alpha, beta + step * direction.beta);
    for (let k = 0; k < 40 && !(next.value >= at.value - slack); k++) {
      step /= 2;
      next = likelihoodAt(data, alpha + step * direction.alpha, beta + step * direction.beta);
    }
    if (!(next.value >= at.value - slack)) break;
    alpha += step * direction.alpha;
    beta += step * direction.beta;
    at = next;
    if (beta < 1e-6 || beta > 1e8) break;
  }
  return { alpha, beta, at };
}

function lastStep({ alpha, beta, at }: TopOnLine, byAlpha: number, byBeta: number): TopOnLine {
  const changeAlpha = at.hessAlphaAlpha * byAlpha + at.hessAlphaBeta * byBeta;
  const changeBeta = at.hessAlphaBeta * byAlpha + at.hessBetaBeta * byBeta;
  return {
    alpha: alpha + byAlpha,
    beta: beta + byBeta,
    at: {
      ...at,
      value: at.value + byAlpha * (at.gradAlpha + changeAlpha / 2) + byBeta * (at.gradBeta + changeBeta / 2),
      gradAlpha: at.gradAlpha + changeAlpha,
      gradBeta: at.gradBeta + changeBeta,
    },
  };
}
