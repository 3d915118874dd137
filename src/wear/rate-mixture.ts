/**
 * A two-part distribution of rates: most components, and a share of fast ones (a batch, a base, a seal that was never
 * set). Both parts have one spread; intercept and scatters are as in the single fit.
 */
import { minimiseWithGradient } from "../math/minimise.ts";
import type { ComponentRates } from "./component-rates.ts";
import type { RateFit } from "./decision-fit.ts";
import { type DecisionLikelihood, PARAMETERS, parametersOf, RATE_TERMS } from "./decision-likelihood.ts";
import { type MixedLogs, mixLogs } from "./mixed-logs.ts";
import { isMixtureOf, mixtureStart } from "./mixture-start.ts";
import type { RateParameters } from "./rate-families.ts";

/** Most components and a share of fast ones; both parts have the same spread. */
export interface RateMixture {
  readonly share: number;
  readonly most: RateParameters;
  readonly fast: RateParameters;
  readonly logLikelihood: number;
  readonly aic: number;
}

/** Two parts are only told apart with enough components for the small one to be more than a few. */
const LEAST_FOR_MIXTURE = 20;

/**
 * The two-part mixture by maximum likelihood over (location, spread, step to the fast part, share). Null where AIC does
 * not ask for it.
 *
 * Mixtures have more than one maximum. So the components' own rates, each with its standard error and truncated where
 * it entered late, are fitted first, from three starts; that is quick, and its best is where the likelihood of the
 * readings starts, if there is anything in it.
 */
export function fitMixture(fit: RateFit, rates: ComponentRates): RateMixture | null {
  if (fit.components < LEAST_FOR_MIXTURE || !(fit.parameters.spread > 0)) return null;
  const start = mixtureStart(fit, rates);
  if (start === null) return null;
  const cost = (x: Float64Array, gradient: Float64Array) =>
    mixtureCost(fit.likelihood, fit.theta, x, gradient);
  const found = minimiseWithGradient(cost, start, { tolerance: 1e-7, maxIterations: 40 });
  const aic = 2 * (PARAMETERS + 2) + 2 * found.value;
  if (!Number.isFinite(aic) || aic >= fit.aic) return null;
  const { most, fast, share } = mixtureTheta(fit.theta, found.at);
  return {
    share,
    most: parametersOf(fit.family, most),
    fast: parametersOf(fit.family, fast),
    logLikelihood: -found.value,
    aic,
  };
}

function mixtureTheta(theta: Float64Array, x: Float64Array) {
  const most = theta.slice();
  most[3] = x[0]!;
  most[4] = Math.exp(x[1]!);
  const fast = most.slice();
  fast[3] = x[0]! + Math.exp(x[2]!);
  return { most, fast, share: 1 / (1 + Math.exp(-x[3]!)) };
}

const mixed: MixedLogs = { log: 0, second: 0 };

/** Minus the log-likelihood of the readings at x = (location, log spread, log step, logit of the share). */
function mixtureCost(
  likelihood: DecisionLikelihood,
  theta: Float64Array,
  x: Float64Array,
  gradient: Float64Array,
): number {
  const { most, fast, share } = mixtureTheta(theta, x);
  if (!isMixtureOf(theta[4]!, most[4]!, share)) return Number.POSITIVE_INFINITY;
  const one = likelihood.rateTerms(most);
  const two = likelihood.rateTerms(fast);
  const step = Math.exp(x[2]!);
  gradient.fill(0);
  let total = 0;
  for (let k = 0; k < one.length; k += RATE_TERMS) {
    // The readings' part, less that of the late entry.
    for (let at = k; at < k + RATE_TERMS; at += RATE_TERMS / 2) {
      const sign = at === k ? -1 : 1;
      mixLogs(one[at]!, two[at]!, share, mixed);
      const { second } = mixed;
      total += sign * mixed.log;
      gradient[0]! += sign * ((1 - second) * one[at + 1]! + second * two[at + 1]!);
      gradient[1]! += sign * ((1 - second) * one[at + 2]! + second * two[at + 2]!) * most[4]!;
      gradient[2]! += sign * second * two[at + 1]! * step;
      gradient[3]! += sign * (second - share);
    }
  }
  return total;
}
