/** Exact limits for a Poisson count: how far the true mean may be from the count that was seen. */
import { chiSquaredQuantile } from "../math/distributions.ts";

export interface CountLimits {
  /** 0 where nothing was counted. */
  readonly lower: number;
  readonly upper: number;
}

/**
 * Two-sided limits for the mean of a Poisson count, each side missed with chance (1 - confidence)/2 at most:
 * lower = χ²(α/2; 2k)/2, upper = χ²(1 - α/2; 2k + 2)/2.
 *
 * Source: Garwood (1936), Fiducial limits for the Poisson distribution, Biometrika 28, 437-442.
 */
export function poissonLimits(count: number, confidence: number): CountLimits {
  if (!(Number.isInteger(count) && count >= 0)) throw new RangeError(`invalid count: ${count}`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`invalid confidence: ${confidence}`);
  const tail = (1 - confidence) / 2;
  return {
    lower: count === 0 ? 0 : chiSquaredQuantile(tail, 2 * count) / 2,
    upper: chiSquaredQuantile(1 - tail, 2 * count + 2) / 2,
  };
}
