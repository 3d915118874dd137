/** The looks that the record holds after a day: what a prediction made on that day is held against. */

import { isEvent } from "../records/event-table.ts";
import type { Life } from "../records/life.ts";
import { SAME_HOURS } from "../records/same-hours.ts";
import type { Day } from "../units.ts";

export interface LaterLook {
  readonly life: Life;
  /** Hours at the good look before (or where the piece began), and at this one. */
  readonly beforeHours: number;
  readonly hours: number;
  readonly day: Day;
  readonly over: boolean;
  /** Good by its number or unread, but it ended in a removal that counts as over limit. */
  readonly removedEarly: boolean;
}

/** Looks made in (after, until], in order of the lives. */
export function laterLooks(lives: readonly Life[], after: Day, until: Day): LaterLook[] {
  const looks: LaterLook[] = [];
  for (const life of lives) {
    let beforeHours = life.entryHours;
    const { lookHours, lookDays } = life;
    for (const [i, hours] of lookHours.entries()) {
      const day = lookDays[i]!;
      if (day > after && day <= until && hours > beforeHours) {
        const last = isEvent(life) && i === lookHours.length - 1;
        const over = last && life.end === "over limit found";
        const removedEarly = last && !over && life.upperHours - hours <= SAME_HOURS;
        looks.push({ life, beforeHours, hours, day, over, removedEarly });
      }
      beforeHours = Math.max(beforeHours, hours);
    }
  }
  return looks;
}

/** Over-limit events in (after, until] that came between looks. */
export const eventsBetween = (lives: readonly Life[], after: Day, until: Day): number =>
  lives.filter(
    (life) =>
      isEvent(life) &&
      life.end !== "over limit found" &&
      life.upperHours - (life.lookHours.at(-1) ?? Number.NEGATIVE_INFINITY) > SAME_HOURS &&
      life.eventDay !== null &&
      life.eventDay > after &&
      life.eventDay <= until,
  ).length;
