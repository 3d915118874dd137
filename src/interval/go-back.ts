/**
 * The go-back number: how many over-limit finds after a change refute what the change was granted on.
 */
import { binomialCumulative } from "../math/distributions.ts";

/**
 * The smallest count x of over-limit finds in `looks` looks that would come by chance at most 1 − confidence of the
 * time if the share were as promised: P(X ≥ x) ≤ 1 − confidence with X binomial. At or past it the former interval
 * counts again. Looks + 1 where even every look over the limit would not be that rare (too few looks to tell).
 *
 * @param promisedShare the bound on over-limit finds per look at the new interval, 0 to 1
 */
export function goBackNumber(looks: number, promisedShare: number, confidence: number): number {
  if (!(promisedShare >= 0 && promisedShare <= 1)) {
    throw new RangeError(`goBackNumber requires a share from 0 to 1, got ${promisedShare}`);
  }
  const rare = 1 - confidence;
  for (let count = 1; count <= looks; count += 1) {
    if (1 - binomialCumulative(count - 1, looks, promisedShare) <= rare) return count;
  }
  return looks + 1;
}
