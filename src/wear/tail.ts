/**
 * The tail of the rates, seen three ways: the fitted spread, the plain mean over the components' own rates, and a
 * two-part mixture (most components, and a share of fast ones) where that fits better. A fitted tail is an assumption,
 * and the tail decides: the caller takes the worst of the three for each risk.
 */
import { standardNormalCdf } from "../math/distributions.ts";
import { minimise } from "../math/minimise.ts";
import { type ComponentRates, componentRates, meanOverComponents } from "./component-rates.ts";
import type { RateFit } from "./decision-fit.ts";
import {
  type DecisionData,
  type DecisionLikelihood,
  PARAMETERS,
  parametersOf,
} from "./decision-likelihood.ts";
import type { RiskFunction } from "./likelihood-region.ts";
import { type RateParameters, readingSdMm } from "./rate-families.ts";

/** Most components and a share of fast ones; both parts have the same spread. */
export interface RateMixture {
  readonly share: number;
  readonly most: RateParameters;
  readonly fast: RateParameters;
  readonly logLikelihood: number;
  readonly aic: number;
}

export interface RateTail {
  readonly fit: RateFit;
  readonly rates: ComponentRates;
  /** Null where the single distribution fits as well (AIC). */
  readonly mixture: RateMixture | null;
  /** A bad share up to this can't be excluded when none of the components shows it: 1 − 0.05^(1/n), about 3/n. */
  readonly unseenShare: number;
}

export interface TailRisk {
  readonly fitted: number;
  readonly observed: number;
  readonly mixture: number | null;
  readonly worst: number;
  readonly governing: "fitted spread" | "observed rates" | "two-part mixture";
}

/** What is known of the tail of a fit. */
export function rateTail(data: DecisionData, fit: RateFit): RateTail {
  return {
    fit,
    rates: componentRates(data, fit.parameters),
    mixture: fitMixture(fit),
    unseenShare: 1 - 0.05 ** (1 / fit.components),
  };
}

/**
 * A risk three ways, larger being worse.
 *
 * @param risk   the risk as a function of the rate distribution; linear in it, as every mean over components is
 * @param ofRate the same risk for one given rate (mm per 1000 h)
 */
export function tailRisk(tail: RateTail, risk: RiskFunction, ofRate: (rate: number) => number): TailRisk {
  const fitted = risk(tail.fit.parameters);
  const observed = meanOverComponents(tail.rates, ofRate);
  const { mixture } = tail;
  const mixed =
    mixture === null ? null : (1 - mixture.share) * risk(mixture.most) + mixture.share * risk(mixture.fast);
  const worst = Math.max(fitted, observed, mixed ?? fitted);
  const governing =
    worst === fitted ? "fitted spread" : worst === observed ? "observed rates" : "two-part mixture";
  return { fitted, observed, mixture: mixed, worst, governing };
}

/** Chance that a reading at these hours is at or over the limit, for a component of one given rate. */
export function overLimitAtRate(
  parameters: RateParameters,
  rateMmPer1000Hours: number,
  hours: number,
  limitMm: number,
): number {
  const line = parameters.interceptMm + (rateMmPer1000Hours * hours) / 1000;
  return standardNormalCdf((line - limitMm) / Math.max(readingSdMm(parameters), 1e-12));
}

/** Two parts are only told apart with enough components for the small one to be more than a few. */
const LEAST_FOR_MIXTURE = 20;

/**
 * The two-part mixture by maximum likelihood over (location, spread, step to the fast part, share), the intercept and
 * scatters as fitted. From three starts, since mixtures have more than one maximum. Null where AIC does not ask for it.
 */
export function fitMixture(fit: RateFit): RateMixture | null {
  if (fit.components < LEAST_FOR_MIXTURE) return null;
  const { location, spread } = fit.parameters;
  if (!(spread > 0)) return null;
  let best: { value: number; at: Float64Array } | null = null;
  for (const share of [0.05, 0.15, 0.35]) {
    const start = [
      location - share * spread,
      Math.log(0.7 * spread),
      Math.log(2 * spread),
      Math.log(share / (1 - share)),
    ];
    const found = minimise((x) => -mixtureValue(fit.likelihood, fit.theta, x), start, {
      tolerance: 1e-8,
      maxIterations: 60,
    });
    if (best === null || found.value < best.value) best = { value: found.value, at: found.at };
  }
  if (best === null) return null;
  const aic = 2 * (PARAMETERS + 2) + 2 * best.value;
  if (!(aic < fit.aic)) return null;
  const { most, fast, share } = mixtureTheta(fit.theta, best.at);
  return {
    share,
    most: parametersOf(fit.family, most),
    fast: parametersOf(fit.family, fast),
    logLikelihood: -best.value,
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

function mixtureValue(likelihood: DecisionLikelihood, theta: Float64Array, x: Float64Array): number {
  const { most, fast, share } = mixtureTheta(theta, x);
  // The parts can't collapse onto single components, and the fast one is the smaller.
  if (most[4]! < 0.1 * theta[4]! || share > 0.5 || share < 1e-4) return Number.NEGATIVE_INFINITY;
  const one = likelihood.terms(most);
  const two = likelihood.terms(fast);
  let total = 0;
  for (let k = 0; k < one.length; k += 2) {
    total += logMix(one[k]!, two[k]!, share) - logMix(one[k + 1]!, two[k + 1]!, share);
  }
  return total;
}

/** log((1 − share)·e^a + share·e^b) without overflow. */
function logMix(a: number, b: number, share: number): number {
  const most = Math.max(a, b);
  return most + Math.log((1 - share) * Math.exp(a - most) + share * Math.exp(b - most));
}
