/** Removals by wear, and how many lack the reading that led to them: without those readings a fit sees only slow wear. */

import type { Life } from "./life.ts";
import { SAME_HOURS } from "./same-hours.ts";

export interface UnreadRemovals {
  /** Lives of this group from its start that ended in a removal by wear. */
  readonly byWear: number;
  /** Of those, without a number read at the removal. */
  readonly unread: number;
}

/**
 * Counts the lives that wear took off at a look: found over the limit and removed, or removed for wear unread. Failures in
 * service are left out: no look led to them, and they have an event and a rule of their own. So are early removals, whose
 * cause may have been another; that makes the share no smaller.
 */
export function unreadRemovals(lives: readonly Life[]): UnreadRemovals {
  let byWear = 0;
  let unread = 0;
  for (const life of lives) {
    const atLook = life.end === "over limit found" || life.end === "unread removal";
    if (life.piece !== 1 || life.removedDay === null || !atLook) continue;
    byWear++;
    if (!readAtEnd(life)) unread++;
  }
  return { byWear, unread };
}

/** A number read at the look that found it over the limit, or at the removal. Of sums only the last reading is known. */
function readAtEnd({ readingHours, summed, upperHours, lastHours }: Life): boolean {
  const known = summed === undefined ? readingHours : [summed.lastHours];
  return known.some(
    (hours) => Math.abs(hours - upperHours) <= SAME_HOURS || Math.abs(hours - lastHours) <= SAME_HOURS,
  );
}
