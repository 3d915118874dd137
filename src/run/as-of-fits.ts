/**
 * Does the day to report fit the exports? A clock that is wrong, a mistyped --as-of and exports that never came all make
 * a month of nothing, whose "nothing to act on" would be false.
 */
import { emptyMonth } from "../interval/empty-month.ts";
import type { Month } from "../interval/month-result.ts";
import { assertExportsReach, WRONG_DAY_ADVICE } from "../interval/reported-day.ts";
import { ExportError } from "../problems.ts";
import { isoDate } from "../units.ts";

/**
 * Throws ExportError where every look and removal lies after the day, or all dates long before it.
 *
 * @returns a warning where the exports hold nothing of the month itself; null where they do
 */
export function asOfFits(month: Month): string | null {
  const asOf = isoDate(month.asOf);
  const lives = month.inputs.filter(({ kind }) => kind === "wear" || kind === "removals");
  const later = lives.reduce((sum, input) => sum + input.afterAsOf, 0);
  const used = lives.reduce((sum, input) => sum + input.used + input.unassigned, 0);
  if (used === 0 && later > 0) {
    throw new ExportError(
      "E-AS-OF",
      `as of ${asOf}: expected looks or removals on or before that day, and all ${later} rows are later; ${WRONG_DAY_ADVICE}`,
    );
  }
  assertExportsReach(month.asOf, month.latestDay);
  return emptyMonth(month);
}
