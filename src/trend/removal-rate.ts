/** Removals per 1000 flight hours by month, with exact limits. */
import { poissonBounds } from "../math/exact-bounds.ts";

/** What was counted in one month. */
export interface MonthCount {
  /** YYYY-MM */
  readonly month: string;
  readonly flightHours: number;
  readonly removals: number;
}

/** A month's rate; a month without flying has none, whatever was removed in it. */
export type MonthRate =
  | {
      readonly kind: "rate";
      readonly month: string;
      readonly per1000H: number;
      readonly lowerPer1000H: number;
      readonly upperPer1000H: number;
    }
  | { readonly kind: "no-hours"; readonly month: string; readonly removals: number };

/** Rates of months with their two-sided exact Poisson limits (Garwood 1936), in the order given. */
export function removalRates(months: readonly MonthCount[], confidence: number): MonthRate[] {
  return months.map(({ month, flightHours, removals }) => {
    if (!(flightHours > 0)) return { kind: "no-hours", month, removals };
    const { lower, upper } = poissonBounds(removals, confidence);
    const per1000 = 1000 / flightHours;
    return {
      kind: "rate",
      month,
      per1000H: removals * per1000,
      lowerPer1000H: lower * per1000,
      upperPer1000H: upper * per1000,
    };
  });
}
