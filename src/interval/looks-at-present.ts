/** The looks that were made at about one interval: the ones that can be counted for or against it. */

import type { Life } from "../records/life.ts";
import { SAME_HOURS } from "../records/same-hours.ts";
import type { Day } from "../units.ts";

export interface CountedLook {
  readonly life: Life;
  /** Hours at the look before (0 for the first of a life followed from new), and at this one. */
  readonly beforeHours: number;
  /** Of a component that came off worn before its look was due: the hours at which it was due. */
  readonly hours: number;
  readonly day: Day;
  readonly overLimit: boolean;
}

/**
 * Looks made within `band` of an interval on or after a day (null: ever), in order of day, component and hours. A look
 * counts by the hours since the look before it; the first look of a life followed from new, by its hours. A look repeated
 * within the band is one look, and the worse of the two counts. A removal that counts as over limit is a look that found
 * one: also long before the interval was up, where wear ended it, for the look then due could have found nothing better.
 */
export function looksAtInterval(
  lives: readonly Life[],
  intervalH: number,
  since: Day | null,
  band: number,
): CountedLook[] {
  const looks: CountedLook[] = [];
  for (const life of lives) {
    let beforeHours = hoursBefore(life);
    for (const moment of momentsOf(life, band * intervalH)) {
      const { firstHours, lastHours, day, overLimit, endedByWear } = moment;
      const before = beforeHours;
      beforeHours = lastHours;
      if (before === null || (since !== null && day < since)) continue;
      const late = firstHours - before - intervalH;
      const early = late < -band * intervalH;
      if (late > band * intervalH || (early && !endedByWear)) continue;
      looks.push({
        life,
        beforeHours: before,
        hours: early ? before + intervalH : lastHours,
        day,
        overLimit,
      });
    }
  }
  return looks.sort(
    (a, b) =>
      a.day - b.day || a.life.component - b.life.component || a.life.life - b.life.life || a.hours - b.hours,
  );
}

/** A look with its repetitions, or a removal that counts as over limit. */
interface Moment {
  readonly firstHours: number;
  lastHours: number;
  day: Day;
  overLimit: boolean;
  readonly endedByWear: boolean;
}

/** Hours at the last look before the first of this piece; null where that look is not recorded. */
function hoursBefore({ piece, entryHours, lateEntry }: Life): number | null {
  if (piece > 1) return entryHours;
  return lateEntry ? null : 0;
}

function momentsOf(life: Life, repeatedWithinH: number): Moment[] {
  const { lookHours, lookDays, end } = life;
  const moments: Moment[] = [];
  for (const [i, hours] of lookHours.entries()) {
    const day = lookDays[i]!;
    const overLimit = end === "over limit found" && i === lookHours.length - 1;
    const last = moments.at(-1);
    if (last === undefined || hours - last.firstHours > repeatedWithinH) {
      moments.push({ firstHours: hours, lastHours: hours, day, overLimit, endedByWear: false });
      continue;
    }
    last.lastHours = hours;
    last.day = day;
    last.overLimit = overLimit;
  }
  if (life.eventDay !== null && end !== "over limit found") addRemoval(moments, life, life.eventDay);
  return moments;
}

/** The removal that ended a life over the limit: the find of the look that it was made at, else a moment of its own. */
function addRemoval(moments: Moment[], { upperHours, end }: Life, day: Day): void {
  const last = moments.at(-1);
  if (last !== undefined && (last.day === day || Math.abs(last.lastHours - upperHours) <= SAME_HOURS)) {
    last.overLimit = true;
    last.day = day;
    return;
  }
  // What an early removal came off for may have been another cause: its wear is judged where it was taken off.
  const endedByWear = end !== "early removal";
  moments.push({ firstHours: upperHours, lastHours: upperHours, day, overLimit: true, endedByWear });
}
