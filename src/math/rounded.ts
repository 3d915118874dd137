/**
 * Rounding for print. A bound is rounded outward, an upper one up and a lower one down, so that what is written still
 * bounds; an estimate goes to the nearest.
 */

/** Where a number goes that lies between two it could be written as. */
export type Rounding = "nearest" | "up" | "down";

/** Nearer to what could be written than this share of itself, a number is that number: 7.000000000000001 is 7. */
const SAME = 1e-9;

/** A number at so many decimals (0 to 100, as toFixed takes them). */
export function rounded(value: number, decimals: number, rounding: Rounding = "nearest"): number {
  const nearest = Number(value.toFixed(decimals));
  const off = nearest - value;
  if (rounding === "nearest" || Math.abs(off) <= SAME * Math.abs(value)) return nearest;
  const step = Number(`1e-${decimals}`);
  if (rounding === "up" && off < 0) return Number((nearest + step).toFixed(decimals));
  if (rounding === "down" && off > 0) return Number((nearest - step).toFixed(decimals));
  return nearest;
}

/** A number at so many significant digits (1 or more). */
export function roundedDigits(value: number, digits: number, rounding: Rounding = "nearest"): number {
  if (value === 0) return 0;
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  const decimals = digits - 1 - exponent;
  if (decimals >= 0) return rounded(value, Math.min(100, decimals), rounding);
  const scale = Number(`1e${-decimals}`);
  return scale * rounded(value / scale, 0, rounding);
}
