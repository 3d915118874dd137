/**
 * Units and calendar days: names, conversions, and the rounding that published numbers get.
 *
 * Inside the program lengths are millimetres, hours are flight hours, days count from 1970-01-01 (UTC, no clock).
 */

export type LengthUnit = "mm" | "um" | "in" | "thou";

/** Millimetres in one of each unit; exact by definition (25.4 mm to the inch). */
export const MM_PER: Readonly<Record<LengthUnit, number>> = { mm: 1, um: 0.001, in: 25.4, thou: 0.0254 };

/** A calendar day as whole days since 1970-01-01. */
export type Day = number;

const MS_PER_DAY = 86_400_000;

/** The day of a date of the Gregorian calendar, or null where there is no such date. */
export function dayOf(year: number, month: number, dayOfMonth: number): Day | null {
  if (month < 1 || month > 12 || dayOfMonth < 1 || dayOfMonth > 31) return null;
  const time = Date.UTC(year, month - 1, dayOfMonth);
  const date = new Date(time);
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== dayOfMonth) return null;
  return Math.round(time / MS_PER_DAY);
}

/** Days that were written once: a fleet has few, and asks for them millions of times. */
const WRITTEN_DAYS = new Map<Day, string>();
const MOST_WRITTEN_DAYS = 100_000;

/** A day as YYYY-MM-DD. */
export function isoDate(day: Day): string {
  const known = WRITTEN_DAYS.get(day);
  if (known !== undefined) return known;
  const text = new Date(day * MS_PER_DAY).toISOString().slice(0, 10);
  if (WRITTEN_DAYS.size < MOST_WRITTEN_DAYS) WRITTEN_DAYS.set(day, text);
  return text;
}

/** The month of a day as YYYY-MM. */
export const isoMonth = (day: Day): string => isoDate(day).slice(0, 7);

/**
 * The month of a day as a number, one more for each month: 12 times the year, plus 0 for January to 11.
 *
 * Years are counted from 1 March, so that the leap day is a year's last and months have 31 or 30 days by a fixed pattern
 * of five; 146,097 days are 400 years.
 */
export function monthNumber(day: Day): number {
  const since = day + 719_468; // days from 0000-03-01 to 1970-01-01
  const era = Math.floor(since / 146_097);
  const ofEra = since - era * 146_097;
  const year = Math.floor(
    (ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) / 365,
  );
  const ofYear = ofEra - (365 * year + Math.floor(year / 4) - Math.floor(year / 100));
  return 12 * (year + 400 * era) + Math.floor((5 * ofYear + 2) / 153) + 2;
}

/** The first day of a month by its number. */
export function monthStart(month: number): Day {
  const fromMarch = month - 2;
  const year = Math.floor(fromMarch / 12);
  const ofYear = Math.floor((153 * (fromMarch - 12 * year) + 2) / 5);
  return (
    365 * year + Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400) + ofYear - 719_468
  );
}

/** The last month, by its number, that is over at the end of a day. */
export const lastWholeMonth = (day: Day): number =>
  monthEnd(day) === day ? monthNumber(day) : monthNumber(day) - 1;

/** The last day of the month that a day is in. */
export function monthEnd(day: Day): Day {
  const date = new Date(day * MS_PER_DAY);
  return Math.round(Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + 1, 0) / MS_PER_DAY);
}

/** The day of an ISO date (YYYY-MM-DD), or null. */
export function dayFromIso(text: string): Day | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  return match ? dayOf(Number(match[1]), Number(match[2]), Number(match[3])) : null;
}

/** The same day `months` calendar months later (the month's last day where it has no such day). */
export function addMonths(day: Day, months: number): Day {
  const date = new Date(day * MS_PER_DAY);
  const first = Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + months, 1);
  const last = monthEnd(Math.round(first / MS_PER_DAY));
  return Math.min(last, Math.round(first / MS_PER_DAY) + date.getUTCDate() - 1);
}

/** A number to 10 significant digits: how machine files publish numbers, so that equal inputs give equal bytes. */
export function published(value: number): number {
  // Most numbers were recorded with a few decimals: millionths, ten digits at most, are published as they are.
  const millionths = Math.round(value * 1e6);
  // + 0 makes no difference but of -0.
  if (Math.abs(millionths) < 1e10 && millionths / 1e6 === value) return value + 0;
  return Number(value.toPrecision(10));
}
