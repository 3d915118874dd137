/** The way up a Weibull log-likelihood: damped Newton in (alpha, beta), which tells a top from a rise without end. */
import type { WeibullLikelihood } from "./likelihood-terms.ts";
import { type LikelihoodAt, likelihoodAt } from "./weibull-likelihood.ts";

export const SHAPE_FLOOR = 1e-5;
export const SHAPE_CEILING = 1e8;

/** A point with the likelihood there. */
interface Standing {
  readonly alpha: number;
  readonly beta: number;
  readonly at: LikelihoodAt;
}

export type Climb =
  | {
      readonly kind: "top";
      readonly alpha: number;
      readonly beta: number;
      readonly logLikelihood: number;
      /** The likelihood at the last point before the top, and how far that was, relative to the parameters. */
      readonly before: LikelihoodAt;
      readonly lastStep: number;
      readonly iterations: number;
    }
  | { readonly kind: "no-maximum" | "not-converged" };

/** Relative to the parameters: a Newton step this small doubles the right digits to all of them. */
const SMALL = 1e-7;

/**
 * Damped Newton with Marquardt's ridge where the Hessian is not negative definite.
 *
 * @param small  a step this small is the last one: its error is about its square. __Default value:__ 1e-7
 */
export function climb(
  data: WeibullLikelihood,
  startAlpha: number,
  startBeta: number,
  small: number = SMALL,
): Climb {
  let here = standingAt(data, startAlpha, startBeta);
  for (let iteration = 1; iteration <= 200; iteration++) {
    const { alpha, beta, at } = here;
    if (!Number.isFinite(at.value)) return { kind: "not-converged" };
    const step = newtonStep(at);
    const lastStep = Math.max(Math.abs(step.alpha) / (1 + Math.abs(alpha)), Math.abs(step.beta) / beta);
    if (lastStep <= small && step.definite) {
      const top = {
        alpha: alpha + step.alpha,
        beta: beta + step.beta,
        logLikelihood: at.value + step.gain / 2,
      };
      return { kind: "top", ...top, before: at, lastStep, iterations: iteration };
    }
    // A long step that promises nothing, or no curvature left: the likelihood is flat there, or rises for ever.
    // Less than that is the rounding of some thousand lives.
    const promise = step.gain / (1 + Math.abs(at.value));
    if (promise <= 1e-11 && (lastStep > 1e-4 || !step.definite)) return { kind: "no-maximum" };
    const next = damped(data, here, step);
    if (next === null) return { kind: step.definite && step.gain < 1e-9 ? "no-maximum" : "not-converged" };
    if (next.beta < SHAPE_FLOOR || next.beta > SHAPE_CEILING) return { kind: "no-maximum" };
    here = next;
  }
  return { kind: "not-converged" };
}

const standingAt = (data: WeibullLikelihood, alpha: number, beta: number): Standing => ({
  alpha,
  beta,
  at: likelihoodAt(data, alpha, beta),
});

interface NewtonStep {
  alpha: number;
  beta: number;
  /** Twice the rise that the quadratic model promises. */
  gain: number;
  definite: boolean;
}

function newtonStep(at: LikelihoodAt): NewtonStep {
  const a = -at.hessAlphaAlpha;
  const b = -at.hessAlphaBeta;
  const c = -at.hessBetaBeta;
  let ridge = 0;
  for (let i = 0; i < 60; i++) {
    const aa = a + ridge * Math.max(Math.abs(a), 1e-12);
    const cc = c + ridge * Math.max(Math.abs(c), 1e-12);
    const determinant = aa * cc - b * b;
    if (aa > 0 && determinant > 1e-14 * Math.abs(aa * cc)) {
      const alpha = (cc * at.gradAlpha - b * at.gradBeta) / determinant;
      const beta = (aa * at.gradBeta - b * at.gradAlpha) / determinant;
      return { alpha, beta, gain: alpha * at.gradAlpha + beta * at.gradBeta, definite: ridge === 0 };
    }
    ridge = ridge === 0 ? 1e-6 : ridge * 4;
  }
  return { alpha: at.gradAlpha, beta: at.gradBeta, gain: Number.POSITIVE_INFINITY, definite: false };
}

/** The first point along a step, halved as often as need be, that rises as it should. */
function damped(data: WeibullLikelihood, from: Standing, step: NewtonStep): Standing | null {
  const { alpha, beta, at } = from;
  let size = 1;
  if (step.beta < 0) size = Math.min(size, (0.7 * beta) / -step.beta);
  if (step.beta > 0) size = Math.min(size, (3 * beta) / step.beta);
  const slack = 1e-14 * (1 + Math.abs(at.value));
  for (let i = 0; i < 50; i++) {
    const trial = standingAt(data, alpha + size * step.alpha, beta + size * step.beta);
    if (trial.at.value - at.value >= 1e-4 * size * step.gain - slack) return trial;
    size /= 2;
  }
  return null;
}
