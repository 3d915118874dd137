/** How fast a seal's gap drifts from as left to as found, with whole aircraft as the sample. */
import { studentQuantile } from "../math/distributions.ts";
import type { SealPeriod } from "./seal-hours.ts";

export type GapDrift =
  | {
      readonly kind: "fitted";
      readonly periods: number;
      readonly aircraft: number;
      readonly driftMmPer1000Hours: number;
      readonly lower: number;
      readonly upper: number;
    }
  | { readonly kind: "too-few"; readonly aircraft: number; readonly needed: number };

/**
 * Ratio of all drift to all hours, Σ(found − left)/Σ hours, with a t bound over aircraft (linearised ratio).
 *
 * @param aircraft of each period
 * Source: Cochran (1977), Sampling Techniques, 3rd ed., section 6.4, ratio of two sums over clusters.
 */
export function gapDrift(
  periods: readonly SealPeriod[],
  aircraft: ArrayLike<number>,
  confidence = 0.95,
): GapDrift {
  const sums = new Map<number, { drift: number; hours: number }>();
  let used = 0;
  for (const [k, period] of periods.entries()) {
    const hours = period.toHours - period.fromHours;
    if (period.gapLeftMm === null || period.gapFoundMm === null || !(hours > 0)) continue;
    const sum = sums.get(aircraft[k]!) ?? { drift: 0, hours: 0 };
    sum.drift += period.gapFoundMm - period.gapLeftMm;
    sum.hours += hours / 1000;
    sums.set(aircraft[k]!, sum);
    used++;
  }
  const n = sums.size;
  if (n < 3) return { kind: "too-few", aircraft: n, needed: 3 };
  const all = [...sums.values()];
  const hours = all.reduce((sum, one) => sum + one.hours, 0);
  const drift = all.reduce((sum, one) => sum + one.drift, 0) / hours;
  const squares = all.reduce((sum, one) => sum + (one.drift - drift * one.hours) ** 2, 0);
  const reach = studentQuantile(0.5 + confidence / 2, n - 1) * (Math.sqrt((n * squares) / (n - 1)) / hours);
  return {
    kind: "fitted",
    periods: used,
    aircraft: n,
    driftMmPer1000Hours: drift,
    lower: drift - reach,
    upper: drift + reach,
  };
}
