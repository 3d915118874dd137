/** A month that the exports hold nothing of: whatever is said of it is said from the months before. */
import { type Day, isoDate, isoMonth } from "../units.ts";
import type { Month } from "./month-result.ts";

/** What a run and its pages tell of it; null where a row of any export is of the month, and where no row has a date at all. */
export function emptyMonth({
  month,
  asOf,
  latestDay,
  inputs,
}: Pick<Month, "month" | "asOf" | "latestDay" | "inputs">): string | null {
  const known = inputs.flatMap(({ latestUpToAsOf }) => latestUpToAsOf ?? []);
  // Tables of lives have no rows with dates of their own.
  const latest = known.length === 0 ? latestDay : known.reduce((a: Day, b) => Math.max(a, b));
  if (latest === null || isoMonth(latest) >= month) return null;
  return `the exports hold nothing of ${month}: their latest date up to ${isoDate(asOf)} is ${isoDate(latest)}; have this month's come?`;
}
