/** Mean flight hours between removals, with exact limits. */
import { poissonBounds } from "../math/exact-bounds.ts";

export type MeanHoursBetween =
  | {
      readonly kind: "estimated";
      readonly removals: number;
      readonly hours: number;
      readonly meanHours: number;
      readonly lowerHours: number;
      readonly upperHours: number;
    }
  /** Nothing was removed: the mean is at least the lower limit, and may be anything above. */
  | { readonly kind: "no-removals"; readonly hours: number; readonly lowerHours: number }
  | { readonly kind: "no-hours"; readonly removals: number };

/**
 * Mean flight hours between removals at a constant rate, over a fixed time of observation, with two-sided limits.
 *
 * 2T/χ²(1 - α/2; 2r + 2) ≤ mean ≤ 2T/χ²(α/2; 2r): Garwood's limits of the count, turned over. With no removals only the
 * lower limit exists, with the same α/2.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 8.4.5.1. Checked: tests/trend/mtbr.test.ts
 */
export function meanHoursBetween(removals: number, hours: number, confidence: number): MeanHoursBetween {
  if (!(hours > 0)) return { kind: "no-hours", removals };
  const { lower, upper } = poissonBounds(removals, confidence);
  if (removals === 0) return { kind: "no-removals", hours, lowerHours: hours / upper };
  return {
    kind: "estimated",
    removals,
    hours,
    meanHours: hours / removals,
    lowerHours: hours / upper,
    upperHours: hours / lower,
  };
}

export interface RemovalCounts {
  readonly flightHours: number;
  /** Every removal, whatever for. */
  readonly all: number;
  /** Removals for cause, confirmed or not: no time-expired part, no convenience. */
  readonly unscheduled: number;
  /** Unscheduled removals that the shop did not clear (no fault found): those confirmed, and those with no finding. */
  readonly failures: number;
}

/** Mean hours between removals of each kind; unconfirmed removals count as unscheduled but not as failures. */
export function removalMeans(
  { flightHours, all, unscheduled, failures }: RemovalCounts,
  confidence: number,
): {
  readonly all: MeanHoursBetween;
  readonly unscheduled: MeanHoursBetween;
  readonly failures: MeanHoursBetween;
} {
  return {
    all: meanHoursBetween(all, flightHours, confidence),
    unscheduled: meanHoursBetween(unscheduled, flightHours, confidence),
    failures: meanHoursBetween(failures, flightHours, confidence),
  };
}
