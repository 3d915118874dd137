/** What a month raised, for `--fail-on`. */
import { emptyMonth } from "../interval/empty-month.ts";
import type { Month } from "../interval/month-result.ts";

/** What a run can be asked to fail on. */
export const RAISED = ["act", "shorten", "alert", "quality"] as const;
export type Raised = (typeof RAISED)[number];

/** True where an export lost more of its rows than the fleet file allows before an extension is off. */
function poorQuality(month: Month): boolean {
  const allowed = month.fleet.evidence.rejectedRows;
  return month.inputs.some(
    (input) => input.read > 0 && (input.rejected + input.unassigned) / input.read > allowed,
  );
}

/** act: a line of act now, or a month that no export holds a row of; shorten: a recommendation to; alert: removals over the alert level; quality: rows lost. */
export function raisedBy(month: Month): Raised[] {
  const raised: Raised[] = [];
  if (month.actNow.length > 0 || emptyMonth(month) !== null) raised.push("act");
  if (month.recommendations.some((one) => one.recommendation === "shorten")) raised.push("shorten");
  if (month.trends.some((trend) => trend.alert)) raised.push("alert");
  if (poorQuality(month)) raised.push("quality");
  return raised;
}
