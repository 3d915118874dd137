/** The wear line: the fitted distribution of rates as a survival curve, and the unsafe-at risk that only it can give. */

import type { GroupReadings } from "../records/event-table.ts";
import { componentSums } from "../wear/component-sums.ts";
import { type DecisionFit, fitDecision } from "../wear/decision-fit.ts";
import { type LikelihoodRegion, likelihoodRegion } from "../wear/likelihood-region.ts";
import { type RateParameters, survivalBelowLimit } from "../wear/rate-families.ts";
import type { SurvivalLine } from "./lines.ts";
import type { Bounded } from "./month-result.ts";
import { type UnsafeSetting, unsafeRiskOf } from "./rate-risk.ts";

export interface WearLine extends SurvivalLine {
  readonly method: "wear";
  readonly fit: DecisionFit;
  /** Worst bounds of any number made from a rate distribution; "upper" is the worse side. */
  readonly worst: (risk: (parameters: RateParameters) => number) => Bounded;
  readonly unsafe: (setting: UnsafeSetting, spacingH: number) => Bounded;
}

export type WearLineResult =
  | { readonly kind: "line"; readonly line: WearLine }
  | { readonly kind: "none"; readonly why: string };

/**
 * The wear line of a group, for one-sided bounds at a confidence. Of the fits that count (families not told apart, all
 * components and those followed from new) the worse value counts, in the estimate and in each bound.
 */
export function wearLine(readings: GroupReadings, replaceAtMm: number, confidence: number): WearLineResult {
  const sums = componentSums(readings.table);
  const fit = fitDecision({ sums, entryHours: readings.entryHours, aircraft: readings.cluster, replaceAtMm });
  if (fit.kind !== "fitted") return { kind: "none", why: fit.why };
  const regions = fit.fits.map((each) => likelihoodRegion(each, confidence));
  const worst = (risk: (parameters: RateParameters) => number) => worstOf(regions, risk);
  const { components, readings: count } = sums;
  return {
    kind: "line",
    line: {
      method: "wear",
      standsOn: `${fit.fits[0]!.family} rates from ${count} readings of ${components} components`,
      fit,
      worst,
      bounded: (quantity) =>
        worst((parameters) => quantity((hours) => survivalBelowLimit(parameters, hours, replaceAtMm))),
      unsafe: (setting, spacingH) => worst((parameters) => unsafeRiskOf(parameters, setting, spacingH)),
    },
  };
}

function worstOf(
  regions: readonly LikelihoodRegion[],
  risk: (parameters: RateParameters) => number,
): Bounded {
  const all = regions.map((region) => region.bound(risk));
  const most = (pick: (bound: (typeof all)[number]) => number) => Math.max(...all.map(pick));
  return { estimate: most((b) => b.estimate), lower: most((b) => b.lower), upper: most((b) => b.upper) };
}
