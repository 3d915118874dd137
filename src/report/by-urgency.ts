/** Recommendations in the order in which a reader needs them: what shortens, the worst first; what extends; the rest. */
import type { Month, Recommendation } from "../interval/month-result.ts";
import { risksAt, worseOverLimit } from "./group-name.ts";

const URGENCY: Readonly<Record<Recommendation["recommendation"], number>> = {
  shorten: 0,
  extend: 1,
  keep: 2,
  "not enough evidence": 3,
};

/** The same recommendations, most urgent first; what is equally urgent stays in the month's order. */
export function byUrgency({ recommendations, fleet }: Month): readonly Recommendation[] {
  return recommendations
    .map((recommendation, index) => ({
      recommendation,
      index,
      kind: URGENCY[recommendation.recommendation],
      // With nothing shorter to go to, the authority is asked now: before all others.
      nowhere: recommendation.recommendation === "shorten" && recommendation.recommendedIntervalH === null,
      times: recommendation.recommendation === "shorten" ? timesAcceptable(recommendation, fleet) : 0,
    }))
    .sort(
      (a, b) =>
        a.kind - b.kind || Number(b.nowhere) - Number(a.nowhere) || b.times - a.times || a.index - b.index,
    )
    .map(({ recommendation }) => recommendation);
}

/** How many times what is acceptable the worst risk at the present interval is, by its best estimate. */
function timesAcceptable(recommendation: Recommendation, { acceptable }: Month["fleet"]): number {
  const risk = risksAt(recommendation, recommendation.presentIntervalH);
  const times = (estimate: number | undefined, level: number) => (estimate ?? 0) / level;
  return Math.max(
    times(risk?.unsafeBeforeSeen?.estimate, acceptable.unsafeBeforeSeen),
    times((risk && worseOverLimit(risk))?.share.estimate, acceptable.overLimitPerInspection),
    times(recommendation.functionalFailures.per1000H?.estimate, acceptable.functionalFailuresPer1000H),
  );
}
