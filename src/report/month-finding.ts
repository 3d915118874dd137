/** A month in one line: what a reader must know before anything else. */
import { emptyMonth } from "../interval/empty-month.ts";
import type { Month, Recommendation } from "../interval/month-result.ts";
import { counted, listed, monthName, whole } from "./number-format.ts";

const answers = (month: Month, answer: Recommendation["recommendation"]): number =>
  month.recommendations.filter((recommendation) => recommendation.recommendation === answer).length;

/** "March 2026: 2 findings to act on now; 1 interval to shorten and 3 to keep" */
export function monthFinding(month: Month): string {
  const acting = month.actNow.length;
  const act = acting === 0 ? "nothing to act on now" : `${counted(acting, "finding")} to act on now`;
  const endings = {
    shorten: "to shorten",
    extend: "to extend",
    keep: "to keep",
    "not enough evidence": "without enough evidence",
  };
  const parts = (["shorten", "extend", "keep", "not enough evidence"] as const)
    .map((answer) => ({ ending: endings[answer], count: answers(month, answer) }))
    .filter(({ count }) => count > 0)
    .map(
      ({ ending, count }, index) => `${index === 0 ? counted(count, "interval") : whole(count)} ${ending}`,
    );
  const missing = emptyMonth(month) === null ? "" : "no export holds a row of this month; ";
  return `${monthName(month.month)}: ${missing}${act}${parts.length === 0 ? "" : `; ${listed(parts)}`}`;
}
