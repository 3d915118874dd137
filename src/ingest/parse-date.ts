/** Dates as exports write them, read without guessing: where day and month could be swapped, both readings are given. */
import { type Day, dayOf } from "../units.ts";

export type DateOrder = "day first" | "month first";

export type DateReading =
  | { readonly kind: "day"; readonly day: Day }
  /** Numbers that are a date in both orders, and another one in each. */
  | { readonly kind: "either"; readonly dayFirst: Day; readonly monthFirst: Day }
  /** A date in one order only, which is evidence for that order. */
  | { readonly kind: "ordered"; readonly order: DateOrder; readonly day: Day }
  | { readonly kind: "none"; readonly why: "no date" | "no such day" | "day number" | "two-digit year" };

const MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ");
const MONTH_NAMES =
  "january february march april may june july august september october november december".split(" ");
const TIME =
  "(?:(?:[T,]\\s*|\\s+)\\d{1,2}[:.]\\d{2}(?:[:.]\\d{2}(?:[.,]\\d+)?)?\\s*(?:[ap]\\.?m\\.?)?\\s*(?:Z|UTC|[+-]\\d{2}:?\\d{2})?)?";
const WEEKDAY = "(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\\s+)?";
const whole = (body: string): RegExp => new RegExp(`^${WEEKDAY}${body}${TIME}$`, "i");

const ISO = whole("(\\d{4})([-/.])(\\d{1,2})\\2(\\d{1,2})");
const COMPACT = /^((?:19|20)\d{2})(\d{2})(\d{2})$/;
const NUMBERS = whole("(\\d{1,2})([-/. ])(\\d{1,2})\\2(\\d{4})");
const SHORT_YEAR = whole("(\\d{1,2})([-/. ])(\\d{1,2}|[a-z]{3,9})\\2(\\d{2})");
const DAY_NAME = whole("(\\d{1,2})(?:st|nd|rd|th)?[-/. ]*([a-z]{3,9})\\.?[-/., ]*(\\d{4})");
const NAME_DAY = whole("([a-z]{3,9})\\.?[-/. ]*(\\d{1,2})(?:st|nd|rd|th)?[-/., ]+(\\d{4})");
const YEAR_NAME = whole("(\\d{4})[-/. ]*([a-z]{3,9})\\.?[-/. ]*(\\d{1,2})");
/** Whole numbers that a spreadsheet shows as dates of 1954-2064, with or without a time of day. */
const DAY_NUMBER = /^[2-5]\d{4}(?:[.,]\d+)?$/;

const noDate: DateReading = { kind: "none", why: "no date" };

/** 1-12 of an English month name, full or of three letters ("sept" too); null for another word. */
function monthOf(name: string): number | null {
  const lower = name.toLowerCase();
  const at = lower === "sept" ? 8 : Math.max(MONTHS.indexOf(lower), MONTH_NAMES.indexOf(lower));
  return at < 0 ? null : at + 1;
}

function reading(year: string, month: number | null, dayOfMonth: string): DateReading {
  if (month === null) return noDate;
  const day = dayOf(Number(year), month, Number(dayOfMonth));
  return day === null ? { kind: "none", why: "no such day" } : { kind: "day", day };
}

/** Reads a date. A time of day after it is left out: the calendar day as written counts. */
export function readDate(text: string): DateReading {
  const iso = ISO.exec(text);
  if (iso) return reading(iso[1]!, Number(iso[3]), iso[4]!);
  const compact = COMPACT.exec(text);
  if (compact) return reading(compact[1]!, Number(compact[2]), compact[3]!);
  const numbers = NUMBERS.exec(text);
  if (numbers) return swappable(numbers[1]!, numbers[3]!, numbers[4]!);
  const dayName = DAY_NAME.exec(text);
  if (dayName) return reading(dayName[3]!, monthOf(dayName[2]!), dayName[1]!);
  const nameDay = NAME_DAY.exec(text);
  if (nameDay) return reading(nameDay[3]!, monthOf(nameDay[1]!), nameDay[2]!);
  const yearName = YEAR_NAME.exec(text);
  if (yearName) return reading(yearName[1]!, monthOf(yearName[2]!), yearName[3]!);
  if (SHORT_YEAR.test(text)) return { kind: "none", why: "two-digit year" };
  if (DAY_NUMBER.test(text)) return { kind: "none", why: "day number" };
  return noDate;
}

function swappable(first: string, second: string, year: string): DateReading {
  const dayFirst = dayOf(Number(year), Number(second), Number(first));
  const monthFirst = dayOf(Number(year), Number(first), Number(second));
  if (dayFirst === null && monthFirst === null) return { kind: "none", why: "no such day" };
  if (monthFirst === null) return { kind: "ordered", order: "day first", day: dayFirst! };
  if (dayFirst === null) return { kind: "ordered", order: "month first", day: monthFirst };
  return dayFirst === monthFirst ? { kind: "day", day: dayFirst } : { kind: "either", dayFirst, monthFirst };
}

const YEAR_MONTH = /^(\d{4})[-/. ]?(\d{1,2})$/;
const MONTH_YEAR = /^(\d{1,2})[-/. ](\d{4})$/;
const NAMED_MONTH = /^([a-z]{3,9})\.?[-/., ]*(\d{4})$/i;
const YEAR_NAMED_MONTH = /^(\d{4})[-/. ]*([a-z]{3,9})\.?$/i;

/** Reads a month (2026-03, 03/2026, Mar 2026), or any date within it, as the month's first day. */
export function readMonth(text: string): DateReading {
  const yearMonth = YEAR_MONTH.exec(text);
  if (yearMonth && !DAY_NUMBER.test(text)) return reading(yearMonth[1]!, Number(yearMonth[2]), "1");
  const monthYear = MONTH_YEAR.exec(text);
  if (monthYear) return reading(monthYear[2]!, Number(monthYear[1]), "1");
  const named = NAMED_MONTH.exec(text);
  if (named) return reading(named[2]!, monthOf(named[1]!), "1");
  const yearNamed = YEAR_NAMED_MONTH.exec(text);
  if (yearNamed) return reading(yearNamed[1]!, monthOf(yearNamed[2]!), "1");
  return readDate(text);
}

/** First day of a day's month. */
export function monthStart(day: Day): Day {
  const date = new Date(day * 86_400_000);
  return dayOf(date.getUTCFullYear(), date.getUTCMonth() + 1, 1)!;
}

/** A reader for a date pattern of the fleet file, such as dd.MM.yyyy or dd-MMM-yy; a time may follow the date. */
export function dateReader(pattern: string): (text: string) => DateReading {
  const parts: string[] = [];
  const body = pattern.replace(/yyyy|yy|MMMM|MMM|MM|M|dd|d|HH|H|mm|ss|[\s\S]/g, (token) => {
    const groups: Record<string, string> = {
      yyyy: "(\\d{4})",
      yy: "(\\d{2})",
      MMMM: "([a-z]{3,9})",
      MMM: "([a-z]{3,9})\\.?",
      MM: "(\\d{1,2})",
      M: "(\\d{1,2})",
      dd: "(\\d{1,2})",
      d: "(\\d{1,2})",
    };
    const group = groups[token];
    if (group !== undefined) {
      parts.push(token);
      return group;
    }
    if (token === "HH" || token === "H" || token === "mm" || token === "ss") return "\\d{1,2}";
    return token.replace(/[\\^$.*+?()[\]{}|/-]/g, "\\$&");
  });
  const regex = new RegExp(`^${body}${/H/.test(pattern) ? "" : TIME}$`, "i");
  return (text) => {
    const match = regex.exec(text);
    return match ? fromParts(parts, match.slice(1)) : noDate;
  };
}

function fromParts(parts: readonly string[], values: readonly string[]): DateReading {
  let year = "";
  let month: number | null = null;
  let dayOfMonth = "1";
  parts.forEach((part, at) => {
    const value = values[at]!;
    if (part === "yyyy") year = value;
    // Two digits are 1970-2069; the program's fleets are younger than that.
    else if (part === "yy") year = String(Number(value) + (Number(value) < 70 ? 2000 : 1900));
    else if (part.startsWith("MMM")) month = monthOf(value);
    else if (part.startsWith("M")) month = Number(value);
    else dayOfMonth = value;
  });
  return year === "" ? noDate : reading(year, month, dayOfMonth);
}
