/**
 * Readings that look as if in another unit: 25.4 (inches for millimetres), 39.4 (thou) or 1000 times their neighbours,
 * or as small a share of them. Bands, because the neighbours are only near.
 */
export const INCHES = { low: 16, high: 63 };
export const THOUSAND = { low: 500, high: 2000 };
/** Readings below this share of the limit are mostly scatter and compare with nothing. */
export const LEAST_COMPARED = 0.04;

/** Whether a reading is another unit's by the readings before and after it. Lengths in one unit, `limit` too. */
export function looksLikeAnotherUnit(value: number, before: number, after: number, limit: number): boolean {
  if (value > limit / 2) {
    const least = LEAST_COMPARED * limit;
    if (bothAsAnotherUnit(value / Math.max(before, least), value / Math.max(after, least))) return true;
  }
  if (value <= 0 || before < limit / 5 || after < limit / 5) return false;
  return bothAsAnotherUnit(before / value, after / value);
}

interface Band {
  readonly low: number;
  readonly high: number;
}

const isWithin = (ratio: number, { low, high }: Band): boolean => ratio >= low && ratio <= high;

const bothAsAnotherUnit = (one: number, other: number): boolean =>
  (isWithin(one, INCHES) && isWithin(other, INCHES)) ||
  (isWithin(one, THOUSAND) && isWithin(other, THOUSAND));

/** Whether all ratios lie in a band. */
export const within = (ratios: readonly number[], band: Band): boolean =>
  ratios.every((ratio) => isWithin(ratio, band));
