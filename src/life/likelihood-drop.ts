/** How far the log-likelihood may fall for a parameter still to be believed, and what a bound looks like. */
import { chiSquaredQuantile } from "../math/distributions.ts";

/** Two-sided or one-sided bounds of one quantity; null where the likelihood sets no bound. */
export interface Bounds {
  readonly lower: number | null;
  readonly upper: number | null;
  /** Which side is not bounded; absent where both are. */
  readonly unbounded?: "lower" | "upper" | "both";
}

/** Bounds from two sides, either of which may be missing. */
export function bounds(lower: number | null, upper: number | null): Bounds {
  if (lower !== null && upper !== null) return { lower, upper };
  if (lower === null && upper === null) return { lower, upper, unbounded: "both" };
  return { lower, upper, unbounded: lower === null ? "lower" : "upper" };
}

/** Twice the allowed fall of the log-likelihood for two-sided bounds: the chi-squared (1) quantile of the confidence. */
export function twoSidedDrop(confidence: number): number {
  checkConfidence(confidence, 0);
  return chiSquaredQuantile(confidence, 1);
}

/** The same for a bound on one side at confidence C: the chi-squared (1) quantile of 2C - 1. */
export function oneSidedDrop(confidence: number): number {
  checkConfidence(confidence, 0.5);
  return chiSquaredQuantile(2 * confidence - 1, 1);
}

function checkConfidence(confidence: number, above: number): void {
  if (!(confidence > above && confidence < 1)) {
    throw new RangeError(`expected a confidence above ${above} and below 1, got ${confidence}`);
  }
}
