/** Lengths with or without a unit in the cell: "0.42", "0,42 mm", "17 thou". */
import type { LengthUnit } from "../units.ts";
import { type Decimal, parseNumber } from "./parse-number.ts";

export type LengthUnitName = LengthUnit;

/** Ways of writing a unit, lower case. Micro sign and Greek mu are different characters and both occur. */
export const LENGTH_UNITS: ReadonlyMap<string, LengthUnit> = new Map([
  ...["mm", "millimetre", "millimetres", "millimeter", "millimeters"].map((w) => [w, "mm"] as const),
  ...["um", "\u00b5m", "\u03bcm", "micron", "microns", "micrometre", "micrometres", "micrometer"].map(
    (w) => [w, "um"] as const,
  ),
  ...["in", "in.", "inch", "inches", '"'].map((w) => [w, "in"] as const),
  ...["thou", "mil", "mils", "0.001 in", "in/1000"].map((w) => [w, "thou"] as const),
]);

const SUFFIX = /^(.*?\d[.,]?)\s*([a-z\u00b5\u03bc".]+)$/i;

/** The number's text and the unit that the cell states, if it does. An exponent is no unit. */
export function splitLength(text: string): { number: string; unit: LengthUnit | null } {
  const match = SUFFIX.exec(text);
  const unit = match ? LENGTH_UNITS.get(match[2]!.toLowerCase()) : undefined;
  return match && unit !== undefined ? { number: match[1]!, unit } : { number: text, unit: null };
}

/** What a cell of a length column holds: a length, a word (no digit in it), or neither. */
export type LengthCell =
  | { readonly kind: "length"; readonly value: number; readonly unit: LengthUnit | null }
  | { readonly kind: "word" }
  | { readonly kind: "bad" };

/** A cell of a wear or gap column: a number, with or without its unit. */
export function parseLength(text: string, decimal: Decimal): LengthCell {
  const { number, unit } = splitLength(text);
  const value = parseNumber(number, decimal);
  if (value !== null) return { kind: "length", value, unit };
  return /\d/.test(text) ? { kind: "bad" } : { kind: "word" };
}
