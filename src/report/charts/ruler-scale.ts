/** What the interval ruler says, before it is drawn: hours along it, and its words for whoever can't see it. */
import type { Recommendation } from "../../interval/month-result.ts";
import { isUnbounded } from "../group-name.ts";
import { hours } from "../number-format.ts";

export interface RulerReading {
  /** Grid of candidate intervals, rising. */
  readonly gridH: readonly number[];
  readonly presentH: number;
  /** null: none on the grid is demonstrated. */
  readonly recommendedH: number | null;
  /** End of the solid bar; null: no interval's bound holds. */
  readonly demonstratedH: number | null;
  /** End of the thin line; null: no interval's best estimate holds, or none is shown. */
  readonly estimateHoldsH: number | null;
  /** No risk has a bound: an estimate alone would look like an answer, and is not shown. */
  readonly unbounded: boolean;
  /** End of the bracket; null: too few components followed at any age. */
  readonly observedToH: number | null;
}

/** What the ruler shows of a recommendation. */
export const rulerReading = (recommendation: Recommendation): RulerReading => ({
  gridH: [...new Set(recommendation.risks.map((risk) => risk.intervalH))].sort((a, b) => a - b),
  presentH: recommendation.presentIntervalH,
  recommendedH: recommendation.recommendedIntervalH,
  demonstratedH: recommendation.longestByBoundH,
  estimateHoldsH: isUnbounded(recommendation) ? null : recommendation.longestByEstimateH,
  unbounded: isUnbounded(recommendation),
  observedToH: recommendation.observedToHours,
});

/** Longest hours that a ruler of these recommendations has to reach: give it to all rulers of one table. */
export const rulerEnd = (recommendations: readonly Recommendation[]): number =>
  recommendations
    .map(rulerReading)
    .reduce((end, one) => Math.max(end, one.presentH, one.recommendedH ?? 0, ...one.gridH), 1);

/** The ruler in one sentence after the other. */
export function rulerInWords(reading: RulerReading): string {
  const { presentH, recommendedH, demonstratedH, estimateHoldsH, observedToH } = reading;
  const recommended =
    recommendedH === null
      ? "No interval is recommended."
      : recommendedH === presentH
        ? "The same is recommended."
        : `Recommended ${hours(recommendedH)}.`;
  const demonstrated =
    demonstratedH === null
      ? "No interval is demonstrated."
      : `Demonstrated to ${hours(demonstratedH)}${atEnd(reading, demonstratedH)}.`;
  const estimate = reading.unbounded
    ? "Too few data for any bound, so no estimate is shown."
    : estimateHoldsH === null
      ? "No best estimate holds."
      : `The best estimate holds to ${hours(estimateHoldsH)}${atEnd(reading, estimateHoldsH)}.`;
  const observed =
    observedToH === null
      ? "Too few components were followed at any age."
      : `Hours observed to ${hours(observedToH)}.`;
  return `Present interval ${hours(presentH)}. ${recommended} ${demonstrated} ${estimate} ${observed}`;
}

const atEnd = (reading: RulerReading, at: number): string =>
  at === reading.gridH.at(-1) ? ", the longest tried" : "";
