/** The way up a Weibull log-likelihood: damped Newton in (alpha, beta), which tells a top from a rise without end. */
import {
  type LikelihoodAt,
  likelihoodAt,
  logLikelihoodAt,
  type WeibullLikelihood,
} from "./weibull-likelihood.ts";

const SHAPE_FLOOR = 1e-5;
export const SHAPE_CEILING = 1e8;

export type Climb =
  | { kind: "top"; alpha: number; beta: number; iterations: number }
  | { kind: "no-maximum" | "not-converged" };

/** Damped Newton with Marquardt's ridge where the Hessian is not negative definite. */
export function climb(data: WeibullLikelihood, startAlpha: number, startBeta: number): Climb {
  let alpha = startAlpha;
  let beta = startBeta;
  let settled = 0;
  for (let iteration = 1; iteration <= 200; iteration++) {
    const at = likelihoodAt(data, alpha, beta);
    if (!Number.isFinite(at.value)) return { kind: "not-converged" };
    const step = newtonStep(at);
    const small = Math.abs(step.alpha) <= 1e-9 * (1 + Math.abs(alpha)) && Math.abs(step.beta) <= 1e-9 * beta;
    if (small && step.definite) {
      // One more full step after the first small one: quadratic convergence makes it exact.
      if (++settled === 2) return { kind: "top", alpha, beta, iterations: iteration };
      alpha += step.alpha;
      beta += step.beta;
      continue;
    }
    // A long step that promises nothing, or no curvature left: the likelihood is flat there, or rises for ever.
    const promise = step.gain / (1 + Math.abs(at.value));
    const flat =
      (promise <= 1e-13 && Math.abs(step.beta) > 1e-3 * beta) || (promise <= 1e-12 && !step.definite);
    if (flat) return { kind: "no-maximum" };
    const next = damped(data, alpha, beta, at.value, step);
    if (next === null) return { kind: step.definite && step.gain < 1e-9 ? "no-maximum" : "not-converged" };
    alpha = next.alpha;
    beta = next.beta;
    if (beta < SHAPE_FLOOR || beta > SHAPE_CEILING) return { kind: "no-maximum" };
  }
  return { kind: "not-converged" };
}

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

function damped(
  data: WeibullLikelihood,
  alpha: number,
  beta: number,
  value: number,
  step: NewtonStep,
): { alpha: number; beta: number } | null {
  let size = 1;
  if (step.beta < 0) size = Math.min(size, (0.7 * beta) / -step.beta);
  if (step.beta > 0) size = Math.min(size, (3 * beta) / step.beta);
  const slack = 1e-14 * (1 + Math.abs(value));
  for (let i = 0; i < 50; i++) {
    const trial = { alpha: alpha + size * step.alpha, beta: beta + size * step.beta };
    const rise = logLikelihoodAt(data, trial.alpha, trial.beta) - value;
    if (rise >= 1e-4 * size * step.gain - slack) return trial;
    size /= 2;
  }
  return null;
}
