/**
 * The go-back number: how many over-limit finds after a change refute what the change was granted on.
 *
 * A count watched month after month passes any limit by luck in the end. So the looks after a change are taken in
 * stages (the first 60, the first 120, 240, …), each with a number of its own that counts from its first look; stage j
 * raises a false alarm at most (1 − C)·2^−j of the time, all of them together at most 1 − C.
 */
import { binomialCumulative } from "../math/distributions.ts";
import type { GoBackNumber } from "./choices-result.ts";

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

/**
 * Stage j (1, 2, …) of watching a change.
 *
 * @param firstLooks  looks of the first stage; each later one has twice as many as the one before
 */
export function goBackStage(
  stage: number,
  firstLooks: number,
  promisedShare: number,
  confidence: number,
): GoBackNumber {
  const doublings = 2 ** (stage - 1);
  const looks = firstLooks * doublings;
  const falseAlarm = (1 - confidence) / (2 * doublings);
  return { looks, finds: goBackNumber(looks, promisedShare, 1 - falseAlarm), falseAlarm };
}

export interface GoBackState {
  readonly looks: number;
  readonly finds: number;
  /** The stage that the next look falls in, or the one whose number was reached. */
  readonly stage: GoBackNumber;
  /** Place in order (from 0) of the find that reached its stage's number; null: not reached. Once reached, it stays. */
  readonly reachedAt: number | null;
}

/** @param overLimit  what each look after the change found, in order */
export function goBackState(
  overLimit: readonly boolean[],
  firstLooks: number,
  promisedShare: number,
  confidence: number,
): GoBackState {
  let number = 1;
  let stage = goBackStage(number, firstLooks, promisedShare, confidence);
  let soFar = 0;
  let reached: { at: number; stage: GoBackNumber } | null = null;
  for (const [at, over] of overLimit.entries()) {
    if (at >= stage.looks) stage = goBackStage(++number, firstLooks, promisedShare, confidence);
    if (over) soFar++;
    if (over && soFar >= stage.finds) reached ??= { at, stage };
  }
  if (overLimit.length >= stage.looks) stage = goBackStage(number + 1, firstLooks, promisedShare, confidence);
  return {
    looks: overLimit.length,
    finds: soFar,
    stage: reached?.stage ?? stage,
    reachedAt: reached?.at ?? null,
  };
}
