/**
 * Unsafe before it is seen: a component reaches the replace-at limit R just after a look. How likely is it that it
 * passes the unsafe-at limit U before any later look sees it?
 *
 * With rate b there are n(b) = max(0, floor(M / (b·T) + 1e-9)) looks before U, M = max(0, U − R − 1.645·scatter); each
 * sees it with the detection chance d, and at most 4 count because misses are not independent. One fixed rate gives
 * n = ln(acceptable) / ln(1 − d). Source: NAVAIR 00-25-403, on-condition task intervals.
 */

import { MOST_LOOKS_COUNTED } from "../fleet/defaults.ts";
import { power } from "../math/power.ts";

/** One-sided 95 % point of a standard normal: how far a reading may be below the true wear. */
const SCATTER_FACTOR = 1.645;

/** Wear between the limits that remains once scatter has taken its part, mm. */
export const usableMarginMm = (replaceAtMm: number, unsafeAtMm: number, scatterMm: number): number =>
  Math.max(0, unsafeAtMm - replaceAtMm - SCATTER_FACTOR * scatterMm);

/** Looks that a component of this rate gets between the limits, at most 4. */
export const looksBeforeUnsafe = (marginMm: number, rateMmPerHour: number, spacingH: number): number =>
  Math.min(MOST_LOOKS_COUNTED, Math.max(0, Math.floor(marginMm / (rateMmPerHour * spacingH) + 1e-9)));

/**
 * Risk per component that reaches R.
 *
 * @param shareAbove     share of those components whose rate is above a given one (mm per hour, beyond-limit factor
 *                       not included), or any multiple of it; above 0 are all
 * @param beyondFactor   how much faster it may wear past R
 * @param spacingH       hours between looks, lateness included
 * @param detection      chance that one look is properly made and sees it
 */
export function unsafeBeforeSeen(
  shareAbove: (rateMmPerHour: number) => number,
  marginMm: number,
  beyondFactor: number,
  spacingH: number,
  detection: number,
): number {
  if (marginMm === 0) return 1;
  // P(fewer than k looks) = share of rates above M / (k·T); the tails are summed, never one minus a sum.
  let risk = 0;
  let fewerThan = 0;
  for (let k = 1; k <= MOST_LOOKS_COUNTED; k++) {
    const fewerThanK = shareAbove((marginMm * (1 + 1e-9)) / (k * spacingH * beyondFactor));
    risk += (fewerThanK - fewerThan) * power(1 - detection, k - 1);
    fewerThan = fewerThanK;
  }
  const all = shareAbove(0);
  risk += (all - fewerThan) * power(1 - detection, MOST_LOOKS_COUNTED);
  return all > 0 ? risk / all : 0;
}
