/** Whom a recommendation is about: the aircraft there at as-of, and those that moved out of the group lately. */
import type { GroupResult } from "../interval/month-result.ts";
import { componentCount, type Life } from "../records/life.ts";
import type { Day } from "../units.ts";

const YEAR_DAYS = 365;

/** True for a piece of life that goes on in its group at as-of. */
export const isFitted = (life: Life): boolean => life.removedDay === null && life.end !== "moved";

const sortedAircraft = (lives: readonly Life[]): readonly string[] =>
  [...new Set(lives.map((life) => life.aircraft))].filter((name) => name !== "").sort();

export interface Effectivity {
  readonly fittedComponents: number;
  /** Aircraft with a component of the group fitted at as-of. */
  readonly aircraft: readonly string[];
  /** Aircraft from which a component of the group moved on in the 12 months before as-of. */
  readonly moved: readonly string[];
}

/** The aircraft a recommendation is about, as of a day. */
export function effectivityOf(group: GroupResult, asOf: Day): Effectivity {
  const fitted = group.lives.filter(isFitted);
  const moved = group.lives.filter((life) => life.end === "moved" && life.lastDay > asOf - YEAR_DAYS);
  return {
    fittedComponents: componentCount(fitted),
    aircraft: sortedAircraft(fitted),
    moved: sortedAircraft(moved),
  };
}
