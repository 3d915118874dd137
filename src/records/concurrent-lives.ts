/**
 * Lives as they were between two days: what a comparison of standards side by side may see. Before and after a change
 * other things differ too (new seals go to the worst aircraft first, whose rates then fall anyway).
 */
import type { Day } from "../units.ts";
import { isEvent } from "./event-table.ts";
import type { Life } from "./life.ts";

/** What a comparison asks of a life. The looks are those of the whole life. */
export type ConcurrentLife = Pick<
  Life,
  | "group"
  | "aircraft"
  | "end"
  | "entryHours"
  | "lowerHours"
  | "upperHours"
  | "observedFromHours"
  | "lastHours"
  | "removal"
  | "lookHours"
>;

/**
 * Lives cut to the looks between two days: a life under way when they begin enters at its last look before; one that goes
 * on after is censored at its last look until then. Lives with no look in between, or over before, are left out.
 */
export function concurrentLives(lives: readonly Life[], fromDay: Day, toDay: Day): ConcurrentLife[] {
  return lives.flatMap((life) => {
    if (life.firstDay > toDay || life.lastDay < fromDay) return [];
    if (life.eventDay !== null && life.eventDay < fromDay) return [];
    const { lookHours, lookDays } = life;
    const before = lookHours[lastUpTo(lookDays, fromDay - 1)] ?? 0;
    const entryHours = Math.max(life.entryHours, before);
    const cut = {
      group: life.group,
      aircraft: life.aircraft,
      end: life.end,
      lastHours: life.lastHours,
      removal: life.removal,
      lookHours,
      entryHours,
      // An early removal's event begins before its last good look, which may be the one entered at.
      lowerHours: Math.max(life.lowerHours, entryHours),
      upperHours: Math.max(life.upperHours, entryHours),
      observedFromHours: Math.max(life.observedFromHours, before),
    };
    if ((life.eventDay ?? life.lastDay) <= toDay) return [cut];
    const last = lookHours[lastUpTo(lookDays, toDay)];
    if (last === undefined || last <= entryHours) return [];
    // Looks up to an event that came later were good ones.
    const lowerHours = isEvent(life) ? Math.min(last, life.lowerHours) : last;
    return [
      {
        ...cut,
        lowerHours,
        upperHours: Number.POSITIVE_INFINITY,
        end: "still fitted" as const,
        lastHours: last,
        removal: null,
      },
    ];
  });
}

/** Place of the last look up to a day; -1 without any. */
function lastUpTo(lookDays: Life["lookDays"], day: Day): number {
  let at = lookDays.length - 1;
  while (at >= 0 && lookDays[at]! > day) at--;
  return at;
}
