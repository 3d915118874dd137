/** Exact confidence bounds for counts. Two-sided at `confidence`, with (1 − confidence) / 2 on each side. */
import { betaQuantileAt, chiSquaredQuantile } from "./distributions.ts";

export interface ExactBounds {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Bounds of a chance from `successes` in `trials` (at least one trial).
 * Source: Clopper and Pearson (1934), Biometrika 26, 404-413. Checked: tests/math/exact-bounds.test.ts
 */
export function clopperPearson(successes: number, trials: number, confidence: number): ExactBounds {
  if (!(Number.isInteger(successes) && successes >= 0 && successes <= trials)) {
    throw new RangeError(`invalid successes: ${successes} of ${trials}`);
  }
  checkConfidence(confidence);
  const tail = (1 - confidence) / 2;
  return {
    estimate: successes / trials,
    lower: successes === 0 ? 0 : betaQuantileAt(tail, successes, trials - successes + 1),
    upper: successes === trials ? 1 : betaQuantileAt(1 - tail, successes + 1, trials - successes),
  };
}

/**
 * Bounds of the mean of a Poisson count.
 * Source: Garwood (1936), Biometrika 28, 437-442. Checked: tests/math/exact-bounds.test.ts
 */
export function poissonBounds(count: number, confidence: number): ExactBounds {
  if (!(Number.isInteger(count) && count >= 0)) throw new RangeError(`invalid count: ${count}`);
  checkConfidence(confidence);
  const tail = (1 - confidence) / 2;
  return {
    estimate: count,
    lower: count === 0 ? 0 : chiSquaredQuantile(tail, 2 * count) / 2,
    upper: chiSquaredQuantile(1 - tail, 2 * count + 2) / 2,
  };
}

function checkConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`invalid confidence: ${confidence}`);
}
