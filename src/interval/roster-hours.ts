/**
 * Hours now of the roster, as they were on the as-of day. A roster exported later has hours on it that were flown after the
 * day, while the looks made in them are not known yet: counted as they stand they would make looks overdue.
 */
import { type ReadExports, wordAt } from "../records/exports.ts";
import { type FlownHours, hoursFlown } from "../records/flown-hours.ts";
import { type Day, lastWholeMonth, monthEnd, monthNumber } from "../units.ts";

/**
 * The exports of a month come in the first days of the next. Hours of so few days are left in: rather a look called overdue
 * some days early.
 */
const DAYS_LEFT_IN = 10;

/** Hours now of a roster row as of a day; NaN where the roster doesn't say, or what was flown since the day isn't known. */
export function rosterHours(exports: ReadExports, asOf: Day): (row: number) => number {
  const { files, installed, flying } = exports;
  if (installed === null) return () => Number.NaN;
  let since: ((aircraft: string, exported: Day) => number | null) | null = null;
  return (row) => {
    const hours = installed.hoursNow[row]!;
    const exported = files[installed.file[row]!]!.exported;
    if (exported === null || exported <= asOf) return hours;
    if (daysOutsideWholeMonths(asOf, exported) > DAYS_LEFT_IN) return Number.NaN;
    if (lastWholeMonth(exported) <= monthNumber(asOf)) return hours;
    const aircraft = wordAt(installed.aircraft, row);
    if (flying === null || aircraft === null) return Number.NaN;
    since ??= flownBetween(hoursFlown(flying), monthNumber(asOf) + 1);
    const flown = since(aircraft, exported);
    return flown === null ? Number.NaN : hours - flown;
  };
}

/** Days between two days that lie in no whole month between them. */
function daysOutsideWholeMonths(asOf: Day, exported: Day): number {
  if (lastWholeMonth(exported) <= monthNumber(asOf)) return exported - asOf;
  const ofLast = monthEnd(exported) === exported ? 0 : new Date(exported * 86_400_000).getUTCDate();
  return monthEnd(asOf) - asOf + ofLast;
}

/** Hours of an aircraft from a month on up to the last whole one; null where a month is missing. */
function flownBetween(
  flown: FlownHours,
  firstMonth: number,
): (aircraft: string, exported: Day) => number | null {
  const numbers = new Map(flown.aircraft.map((name, number) => [name, number]));
  return (aircraft, exported) => {
    const number = numbers.get(aircraft);
    if (number === undefined) return null;
    const lastMonth = lastWholeMonth(exported);
    const months = new Set<number>();
    let hours = 0;
    for (let i = flown.start[number]!; i < flown.start[number + 1]!; i++) {
      const month = flown.month[i]!;
      if (month < firstMonth || month > lastMonth) continue;
      months.add(month);
      hours += flown.hours[i]!;
    }
    return months.size === lastMonth - firstMonth + 1 ? hours : null;
  };
}
