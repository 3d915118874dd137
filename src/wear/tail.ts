/**
 * The tail of the rates, seen three ways: the fitted spread, the plain mean over the components' own rates, and a
 * two-part mixture (most components, and a share of fast ones) where that fits better. A fitted tail is an assumption,
 * and the tail decides: the caller takes the worst of the three for each risk.
 */

import { power } from "../math/power.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import { type ComponentRates, componentRates, meanOverComponents } from "./component-rates.ts";
import type { RateFit } from "./decision-fit.ts";
import type { DecisionData } from "./decision-likelihood.ts";
import type { RiskFunction } from "./likelihood-region.ts";
import { type RateParameters, readingSdMm } from "./rate-families.ts";
import { fitMixture, type RateMixture } from "./rate-mixture.ts";

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
  const rates = componentRates(data, fit.parameters);
  return {
    fit,
    rates,
    mixture: fitMixture(fit, rates),
    unseenShare: 1 - power(0.05, 1 / fit.components),
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
  return tabulatedNormalCdf((line - limitMm) / Math.max(readingSdMm(parameters), 1e-12));
}
