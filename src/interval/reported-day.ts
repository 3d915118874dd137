/** The day that a month is reported as of. */
import { ExportError } from "../problems.ts";
import { type Day, monthEnd } from "../units.ts";

/**
 * The last month-end on or before the latest date in the exports.
 * Throws ExportError where they hold no dated row: then there is no month to report.
 */
export function lastMonthEnd(latest: Day | null): Day {
  if (latest === null) {
    throw new ExportError(
      "E-NO-FILE",
      "the exports hold no dated row, so no month can be reported; check the files and columns of the fleet file",
    );
  }
  const end = monthEnd(latest);
  if (end === latest) return end;
  // The day before the first of the latest month.
  return latest - Number(new Date(latest * 86_400_000).getUTCDate());
}
