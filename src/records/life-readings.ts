/** What is known of a life's readings, whether they are here one by one or only as sums that a warehouse made. */
import type { Day } from "../units.ts";
import type { Life } from "./life.ts";

/** The readings of one piece of a life, summed up. */
export interface ReadingSums {
  readonly count: number;
  readonly meanHours: number;
  readonly meanWearMm: number;
  /** Σ(h − mean)², hours². */
  readonly hoursSquared: number;
  /** Σ(h − mean)(w − mean), hours·mm. */
  readonly hoursWear: number;
  /** Σ(w − mean)², mm². */
  readonly wearSquared: number;
  readonly lastHours: number;
  readonly lastDay: Day;
  readonly lastWearMm: number;
  readonly highestWearMm: number;
  /** Of the looks of the piece, those with a number. */
  readonly looksWithNumber: number;
}

/** How many numbers were read in a piece. */
export const readingCount = (life: Life): number => life.summed?.count ?? life.readingHours.length;

/** The highest reading of a piece, mm; null without one. */
export function highestWearMm(life: Life): number | null {
  if (life.summed !== undefined) return life.summed.highestWearMm;
  return life.readingWearMm.length === 0
    ? null
    : life.readingWearMm.reduce((most, wearMm) => Math.max(most, wearMm));
}

/** The last reading of a piece; null without one. */
export function lastReading(
  life: Life,
): { readonly hours: number; readonly wearMm: number; readonly day: Day } | null {
  if (life.summed !== undefined) {
    const { lastHours, lastWearMm, lastDay } = life.summed;
    return { hours: lastHours, wearMm: lastWearMm, day: lastDay };
  }
  if (life.readingHours.length === 0) return null;
  return {
    hours: life.readingHours.at(-1)!,
    wearMm: life.readingWearMm.at(-1)!,
    day: life.readingDays.at(-1)!,
  };
}

/** Looks of a piece at which a number was read. */
export function looksWithNumber(life: Life): number {
  if (life.summed !== undefined) return life.summed.looksWithNumber;
  const { readingHours, lookHours } = life;
  // Mostly every look has its reading, in the same place.
  let read: ReadonlySet<number> | null = null;
  let count = 0;
  for (let i = 0; i < lookHours.length; i++) {
    if (readingHours[i] !== lookHours[i]) read ??= new Set(readingHours);
    if (read === null || read.has(lookHours[i]!)) count++;
  }
  return count;
}
