/** Values on the command line, checked while it is read: a wrong one ends with exit code 2 and says what was expected. */
import { InvalidArgumentError } from "commander";
import { RAISED, type Raised } from "../run/raised.ts";
import { type Day, dayFromIso } from "../units.ts";

/** Between 0.5 and 1. */
export function confidence(text: string): number {
  const value = Number(text);
  if (text.trim() !== "" && value > 0.5 && value < 1) return value;
  throw new InvalidArgumentError("expected a number over 0.5 and under 1, such as 0.95.");
}

/** A positive number. */
export function positive(text: string): number {
  const value = Number(text);
  if (text.trim() !== "" && value > 0 && Number.isFinite(value)) return value;
  throw new InvalidArgumentError("expected a number over 0.");
}

/** A whole number from 0. */
export function wholeNumber(text: string): number {
  if (/^\d{1,9}$/.test(text)) return Number(text);
  throw new InvalidArgumentError("expected a whole number from 0.");
}

/** A whole number from 1. */
export function months(text: string): number {
  const value = /^\d{1,6}$/.test(text) ? Number(text) : 0;
  if (value >= 1) return value;
  throw new InvalidArgumentError("expected a whole number from 1.");
}

const MOST_THREADS = 64;

/** A count of threads. */
export function threads(text: string): number {
  const value = /^\d{1,2}$/.test(text) ? Number(text) : 0;
  if (value >= 1 && value <= MOST_THREADS) return value;
  throw new InvalidArgumentError(`expected a whole number from 1 to ${MOST_THREADS}.`);
}

const MOST_MONTHS = 240;

/** A count of past months: whole, from 1 to 240. */
export function replayed(text: string): number {
  const value = /^\d{1,3}$/.test(text) ? Number(text) : 0;
  if (value >= 1 && value <= MOST_MONTHS) return value;
  throw new InvalidArgumentError(`expected a whole number from 1 to ${MOST_MONTHS}.`);
}

export type AsOf = Day | "last-month-end";

/** A date, or `last-month-end`. */
export function asOf(text: string): AsOf {
  if (text === "last-month-end") return text;
  const day = dayFromIso(text);
  if (day !== null) return day;
  throw new InvalidArgumentError("expected a date as YYYY-MM-DD, or last-month-end.");
}

const isRaised = (word: string): word is Raised => RAISED.some((raised) => raised === word);

/** A list of what to fail on. */
export function failOn(text: string): Raised[] {
  const words = text.split(",").map((word) => word.trim());
  if (words.every(isRaised)) return words;
  throw new InvalidArgumentError(`expected some of ${RAISED.join(",")}.`);
}
