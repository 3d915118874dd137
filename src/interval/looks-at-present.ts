/** The looks that were made at about one interval: the ones that can be counted for or against it. */
import type { Life } from "../records/life.ts";
import type { Day } from "../units.ts";

export interface CountedLook {
  readonly life: Life;
  /** Hours at the look before (0 for the first of a life followed from new), and at this one. */
  readonly beforeHours: number;
  readonly hours: number;
  readonly day: Day;
  readonly overLimit: boolean;
}

/**
 * Looks made within `band` of an interval on or after a day (null: ever), in order of day, component and hours. A look
 * counts by the hours since the look before it; the first look of a life followed from new, by its hours.
 */
export function looksAtInterval(
  lives: readonly Life[],
  intervalH: number,
  since: Day | null,
  band: number,
): CountedLook[] {
  const looks: CountedLook[] = [];
  for (const life of lives) {
    const { lookHours, lookDays } = life;
    for (const [i, hours] of lookHours.entries()) {
      const beforeHours = i > 0 ? lookHours[i - 1]! : life.lateEntry ? null : 0;
      if (beforeHours === null || Math.abs(hours - beforeHours - intervalH) > band * intervalH) continue;
      const day = lookDays[i]!;
      if (since !== null && day < since) continue;
      const overLimit = life.end === "over limit found" && i === lookHours.length - 1;
      looks.push({ life, beforeHours, hours, day, overLimit });
    }
  }
  return looks.sort(
    (a, b) =>
      a.day - b.day || a.life.component - b.life.component || a.life.life - b.life.life || a.hours - b.hours,
  );
}
