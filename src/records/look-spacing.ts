/** How far apart looks were made in a group at a time: intervals change, and the fleet file need not say what they were. */
import { median } from "simple-statistics";
import { type Day, monthNumber } from "../units.ts";
import type { GroupKey } from "./life.ts";

/** Hours from the first look of a life to its second, by group and year of the first. */
export class LookSpacing {
  readonly #hours = new Map<GroupKey, Map<number, number[]>>();
  readonly #medians = new Map<number[], number>();

  /** @param hours from one look to the next */
  add(group: GroupKey, day: Day, hours: number): void {
    let years = this.#hours.get(group);
    if (years === undefined) {
      years = new Map();
      this.#hours.set(group, years);
    }
    const known = years.get(yearOf(day));
    if (known) known.push(hours);
    else years.set(yearOf(day), [hours]);
  }

  /** The median of those of that year; null where there are too few. */
  at(group: GroupKey, day: Day): number | null {
    const hours = this.#hours.get(group)?.get(yearOf(day));
    if (hours === undefined || hours.length < FEWEST) return null;
    let middle = this.#medians.get(hours);
    if (middle === undefined) {
      middle = median(hours);
      this.#medians.set(hours, middle);
    }
    return middle;
  }
}

const FEWEST = 5;
const yearOf = (day: Day): number => Math.floor(monthNumber(day) / 12);
