/**
 * Quantities as the fleet file writes them: a number with its unit ("0.50 mm", "600 h", "12 months", "10%").
 *
 * The unit is never assumed. Numbers have a decimal point and no thousands marks, so that a file means the same
 * everywhere. Each reader answers the value in the program's own unit, or what it expected and what to do.
 */
import { type Day, dayFromIso, MM_PER } from "../units.ts";

/** A value read from a text, or why the text has none. */
export type Quantity<T = number> =
  | { readonly kind: "ok"; readonly value: T }
  | { readonly kind: "problem"; readonly expected: string; readonly hint: string };

const NUMBER = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?`;
const NUMBER_AND_REST = new RegExp(`^(${NUMBER})\\s*(.*)$`);

const LENGTH_WORDS: ReadonlyMap<string, keyof typeof MM_PER> = new Map([
  ["mm", "mm"],
  ["um", "um"],
  ["µm", "um"],
  ["μm", "um"],
  ["in", "in"],
  ["thou", "thou"],
]);

const ok = <T>(value: T): Quantity<T> => ({ kind: "ok", value });
const problem = (expected: string, hint: string): Quantity<never> => ({ kind: "problem", expected, hint });

/** Number and unit word apart, or null where the text doesn't begin with a number. */
function split(text: string): { number: number; unit: string } | null {
  const match = NUMBER_AND_REST.exec(text.trim());
  return match ? { number: Number(match[1]), unit: match[2]!.trim() } : null;
}

/** What to say of a text that is no plain number, in the order in which people go wrong. */
function numberHint(text: string, example: string): string {
  if (/\d,\d/.test(text)) return `write a decimal point and no thousands marks, such as "${example}"`;
  return `write it as "${example}"`;
}

/** A length of zero or more, in mm, from "0.50 mm", "500 um", "20 thou" or "0.020 in". */
export function readLengthMm(text: string): Quantity {
  const expected = "a length with its unit: mm, um, in or thou";
  const parts = split(text);
  if (parts === null || /^,/.test(parts.unit)) return problem(expected, numberHint(text, "0.50 mm"));
  if (parts.unit === "") return problem(expected, `write the unit, such as "${text.trim()} mm"`);
  const unit = LENGTH_WORDS.get(parts.unit);
  if (unit === undefined) return problem(expected, `"${parts.unit}" is no unit of length here`);
  if (!(parts.number >= 0)) return problem(`${expected}, not negative`, 'write it as "0.50 mm"');
  return ok(parts.number * MM_PER[unit]);
}

/** Flight hours over zero, from "600 h". */
export function readHours(text: string): Quantity {
  const expected = "flight hours with their unit, over zero";
  const parts = split(text);
  if (parts === null || /^,/.test(parts.unit)) return problem(expected, numberHint(text, "600 h"));
  if (parts.unit === "") return problem(expected, `write the unit, such as "${text.trim()} h"`);
  if (parts.unit !== "h") return problem(expected, `"${parts.unit}" is not h; write "600 h"`);
  if (!(parts.number > 0)) return problem(expected, 'write it as "600 h"');
  return ok(parts.number);
}

/** A whole number of months over zero, from "12 months" or "1 month". */
export function readMonths(text: string): Quantity {
  const expected = "a whole number of months";
  const match = /^(\d+)\s+months?$/.exec(text.trim());
  const months = Number(match?.[1]);
  if (!match || months < 1) return problem(expected, 'write it as "12 months"');
  return ok(months);
}

/** A plain number with no unit. */
export function readNumber(text: string): Quantity {
  const parts = split(text);
  if (parts === null || parts.unit !== "" || !Number.isFinite(parts.number)) {
    return problem("a number", numberHint(text, "0.95"));
  }
  return ok(parts.number);
}

/** A share from 0 to 1, from "10%" or "0.10". */
export function readShare(text: string): Quantity {
  const expected = "a share from 0 to 1, or a percentage";
  const parts = split(text);
  if (parts === null || (parts.unit !== "" && parts.unit !== "%")) {
    return problem(expected, numberHint(text, "10%"));
  }
  const share = parts.unit === "%" ? parts.number / 100 : parts.number;
  if (!(share >= 0 && share <= 1)) {
    return problem(expected, parts.unit === "" ? `did you mean "${parts.number}%"?` : "at most 100%");
  }
  return ok(share);
}

/** Two lengths, in mm, from "0 mm to 1.00 mm" (which is the lower is not checked here). */
export function readLengthRangeMm(text: string): Quantity<{ lowMm: number; highMm: number }> {
  const expected = "two lengths with their units, from low to high";
  const ends = text.split(/\s+to\s+/);
  if (ends.length !== 2) return problem(expected, 'write it as "0 mm to 1.00 mm"');
  const low = readLengthMm(ends[0]!);
  if (low.kind === "problem") return problem(expected, low.hint);
  const high = readLengthMm(ends[1]!);
  if (high.kind === "problem") return problem(expected, high.hint);
  return ok({ lowMm: low.value, highMm: high.value });
}

/** A calendar day from YYYY-MM-DD. */
export function readDay(text: string): Quantity<Day> {
  const day = dayFromIso(text.trim());
  if (day !== null) return ok(day);
  const exists = /^\d{4}-\d{2}-\d{2}$/.test(text.trim());
  return problem("a date as YYYY-MM-DD", exists ? "there is no such day" : 'write it as "2026-03-12"');
}

/** A month from YYYY-MM, as the same text. */
export function readMonth(text: string): Quantity<string> {
  if (/^\d{4}-(0[1-9]|1[0-2])$/.test(text.trim())) return ok(text.trim());
  return problem("a month as YYYY-MM", 'write it as "2026-04"');
}
