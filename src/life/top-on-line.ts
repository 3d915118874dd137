/** The best point of a Weibull likelihood along a straight line in (alpha, beta): the inner search of every profile. */
import { likelihoodAt, logLikelihoodAt, type WeibullLikelihood } from "./weibull-likelihood.ts";

export interface Point {
  readonly alpha: number;
  readonly beta: number;
}

/** The top of the log-likelihood on a line through `start`, by damped Newton in one variable. Beta stays positive. */
export function topOnLine(data: WeibullLikelihood, start: Point, direction: Point): Point {
  let { alpha, beta } = start;
  for (let i = 0; i < 100; i++) {
    const at = likelihoodAt(data, alpha, beta);
    const slope = direction.alpha * at.gradAlpha + direction.beta * at.gradBeta;
    const bend =
      direction.alpha ** 2 * at.hessAlphaAlpha +
      2 * direction.alpha * direction.beta * at.hessAlphaBeta +
      direction.beta ** 2 * at.hessBetaBeta;
    let step = bend < 0 ? -slope / bend : Math.sign(slope) * (direction.beta === 0 ? 1 : beta);
    const gain = Math.abs(step * slope);
    if (!Number.isFinite(step) || gain <= 1e-16 * (1 + Math.abs(at.value))) break;
    if (direction.beta !== 0) step = Math.min(Math.max(step, -0.8 * beta), 4 * beta);
    else step = Math.min(Math.max(step, -10), 10);
    let size = 1;
    let rise = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < 40; k++) {
      const value = logLikelihoodAt(
        data,
        alpha + size * step * direction.alpha,
        beta + size * step * direction.beta,
      );
      rise = value - at.value;
      if (rise >= -1e-14 * (1 + Math.abs(at.value))) break;
      size /= 2;
    }
    if (rise < -1e-14 * (1 + Math.abs(at.value))) break;
    alpha += size * step * direction.alpha;
    beta += size * step * direction.beta;
    if (beta < 1e-6 || beta > 1e8) break;
  }
  return { alpha, beta };
}
