/** What earlier decisions and reviews mean for this month's question. */

import type { Decision, Fleet, Task } from "../fleet/fleet.ts";
import { power } from "../math/power.ts";
import type { GroupKey } from "../records/life.ts";
import { type Day, isoMonth } from "../units.ts";

/** True where an extension may be decided this month. Without reviews this run counts as the first one. */
export const isReviewMonth = (fleet: Fleet, asOf: Day): boolean =>
  fleet.reviews === null || fleet.reviews.includes(isoMonth(asOf));

/**
 * Number of the review that this month is, or that the next one will be, counted since the last change of the interval.
 */
export function reviewNumber(fleet: Fleet, since: Day | null, asOf: Day): number {
  const months = fleet.reviews ?? [isoMonth(asOf)];
  const past = months.filter(
    (month) => month <= isoMonth(asOf) && (since === null || month > isoMonth(since)),
  );
  return isReviewMonth(fleet, asOf) ? Math.max(1, past.length) : past.length + 1;
}

/**
 * Confidence at which review j tests an extension: 1 − (1 − C)·2^−j. A limit tried again and again passes by luck in
 * the end; spent so, all reviews together stay within 1 − C.
 */
export const extensionConfidence = (confidence: number, review: number): number =>
  1 - (1 - confidence) * power(2, -review);

/** The latest decision that speaks for this group, or null. */
export function lastDecision(fleet: Fleet, task: Task, group: GroupKey, asOf: Day): Decision | null {
  let last: Decision | null = null;
  for (const decision of fleet.decisions) {
    const speaks =
      decision.task === task.task &&
      decision.on <= asOf &&
      (decision.environment === null || decision.environment === group.environment) &&
      (decision.standard === null || decision.standard === group.standard);
    if (speaks && (last === null || decision.on >= last.on)) last = decision;
  }
  return last;
}
