/** The day that --as-of asks for. `last-month-end` is the one place where the clock decides what is reported. */
import { type Day, monthEnd } from "../units.ts";
import type { AsOf } from "./arguments.ts";

const MS_PER_DAY = 86_400_000;

/** The last day of the month before the one that `now` is in (UTC). */
export function lastMonthEnd(now: Date): Day {
  const firstOfMonth = Date.UTC(now.getUTCFullYear(), now.getUTCMonth(), 1);
  return monthEnd(Math.round(firstOfMonth / MS_PER_DAY) - 1);
}

/** null: not asked for. */
export const asOfDay = (asked: AsOf | undefined): Day | null =>
  asked === "last-month-end" ? lastMonthEnd(new Date(Date.now())) : (asked ?? null);
