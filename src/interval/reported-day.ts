/** The day that a month is reported as of, and whether the exports reach it. */
import { ExportError } from "../problems.ts";
import { type Day, isoDate, monthEnd } from "../units.ts";

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

/** A fleet may stand idle for a month or two; after that the exports are missing. */
const LONGEST_SILENCE_DAYS = 92;

/** What may be wrong with a day that does not fit the exports. */
export const WRONG_DAY_ADVICE = "is this machine's clock right, and --as-of? Nothing was published";

/** Throws ExportError where the exports end long before the day: a wrong clock, a mistyped day, exports that never came. */
export function assertExportsReach(asOf: Day, latestDay: Day | null): void {
  if (latestDay === null || asOf - latestDay <= LONGEST_SILENCE_DAYS) return;
  throw new ExportError(
    "E-AS-OF",
    `as of ${isoDate(asOf)}: expected exports up to that month, and they end on ${isoDate(latestDay)}; fetch the exports ` +
      `that are missing, or ${WRONG_DAY_ADVICE}`,
  );
}
