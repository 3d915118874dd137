/**
 * Alert level of removals: a month is over it when more came off than chance explains at the rate of the months before.
 *
 * The rate of the window before a month (its removals over its hours) times the month's hours is the mean expected; the
 * limit is the least count that is not exceeded with the stated chance. The window doesn't include the month itself,
 * which would otherwise raise its own limit. An alert is open when two of the last three months
 * are over: at 99 % that is luck at most 3 times in 10,000 for a known mean, somewhat more often for one estimated from
 * the window; a single month over would be luck once in eight years.
 */
import { poissonCumulative } from "../math/distributions.ts";
import type { MonthCount } from "./removal-rate.ts";

type MonthAlert =
  | {
      readonly kind: "limit";
      readonly month: string;
      readonly removals: number;
      /** Mean of the month's count at the rate of the window before. */
      readonly expected: number;
      /** Removals in that window; an expected count from few is itself uncertain. */
      readonly windowRemovals: number;
      readonly windowHours: number;
      /** Largest count that is not over the limit. */
      readonly limitCount: number;
      /** Count from which a month is over: limitCount + 1. */
      readonly alertCount: number;
      /** Chance of this count or more at the expected mean. */
      readonly chance: number;
      readonly over: boolean;
    }
  | {
      readonly kind: "no-limit";
      readonly month: string;
      readonly removals: number;
      /** The window is not full yet, or nothing flew in it or in the month. */
      readonly why: "window not full" | "no hours";
    };

export interface AlertOptions {
  readonly windowMonths: number;
  /** Chance that a month is not over where nothing changed. __Default value:__ 0.99 */
  readonly level?: number;
}

export interface Alerts {
  readonly months: readonly MonthAlert[];
  /** Two of the last three months are over. null: with months that have removals and no limit, or too few months, they may be. */
  readonly open: boolean | null;
  /** Those of the last three months that are over. */
  readonly overMonths: readonly string[];
  /** Those of the last three months that have removals and no limit to hold them against. */
  readonly unknownMonths: readonly string[];
}

const LAST_MONTHS = 3;
const OVER_FOR_ALERT = 2;

/** Alert levels month by month. Months must follow one another without gaps, oldest first. */
export function removalAlerts(months: readonly MonthCount[], options: AlertOptions): Alerts {
  const { windowMonths, level = 0.99 } = options;
  if (!(Number.isInteger(windowMonths) && windowMonths >= 1)) {
    throw new RangeError(`invalid windowMonths: ${windowMonths}`);
  }
  const alerts = months.map((month, i) =>
    monthAlert(month, months.slice(Math.max(0, i - windowMonths), i), windowMonths, level),
  );
  const last = alerts.slice(-LAST_MONTHS);
  const named = (is: (alert: MonthAlert) => boolean) => last.filter(is).map(({ month }) => month);
  const overMonths = named((alert) => alert.kind === "limit" && alert.over);
  // Without a removal a month isn't over, whatever its limit.
  const unknownMonths = named((alert) => alert.kind === "no-limit" && alert.removals > 0);
  const mayBeOver = overMonths.length + unknownMonths.length + (LAST_MONTHS - last.length);
  const open = overMonths.length >= OVER_FOR_ALERT ? true : mayBeOver >= OVER_FOR_ALERT ? null : false;
  return { months: alerts, open, overMonths, unknownMonths };
}

function monthAlert(
  { month, removals, flightHours }: MonthCount,
  window: readonly MonthCount[],
  windowMonths: number,
  level: number,
): MonthAlert {
  if (window.length < windowMonths) return { kind: "no-limit", month, removals, why: "window not full" };
  const windowHours = window.reduce((sum, one) => sum + one.flightHours, 0);
  const windowRemovals = window.reduce((sum, one) => sum + one.removals, 0);
  if (!(windowHours > 0 && flightHours > 0)) return { kind: "no-limit", month, removals, why: "no hours" };
  const expected = (windowRemovals * flightHours) / windowHours;
  const limitCount = poissonLimitCount(expected, level);
  return {
    kind: "limit",
    month,
    removals,
    expected,
    windowRemovals,
    windowHours,
    limitCount,
    alertCount: limitCount + 1,
    chance: removals === 0 ? 1 : 1 - poissonCumulative(removals - 1, expected),
    over: removals > limitCount,
  };
}

/** The least count k with P(X ≤ k) ≥ level for a Poisson count X of the given mean. */
export function poissonLimitCount(mean: number, level: number): number {
  if (!(mean >= 0 && Number.isFinite(mean))) throw new RangeError(`invalid mean: ${mean}`);
  if (!(level > 0 && level < 1)) throw new RangeError(`invalid level: ${level}`);
  let k = Math.max(0, Math.floor(mean));
  while (k > 0 && poissonCumulative(k - 1, mean) >= level) k--;
  while (poissonCumulative(k, mean) < level) k++;
  return k;
}
