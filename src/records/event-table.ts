/**
 * The table of over-limit events of a group: all that its life models see.
 */
import type { Life } from "./life.ts";
import { readingCount } from "./life-readings.ts";
import type { LifeTable } from "./life-table.ts";
import type { WearTable } from "./wear-table.ts";

/** Ends that are over-limit events. */
export const isEvent = (life: Pick<Life, "upperHours">): boolean =>
  life.upperHours !== Number.POSITIVE_INFINITY;

/**
 * Upper end of an event as a life table has it. What was found at 0 h never flew: its hours may be recorded wrongly, or it was
 * bad when fitted; no distribution of hours can say anything of it. It is counted wherever lives are counted, a sentence of
 * what is not known names it, and to the life models it is a life of no hours.
 */
export const modelledUpper = (upperHours: number): number =>
  upperHours > 0 ? upperHours : Number.POSITIVE_INFINITY;

/** Stands for the aircraft of lives without one, where others have one. */
export const AIRCRAFT_NOT_RECORDED = "aircraft not recorded";

/**
 * Aircraft numbers for clustering, in order of first appearance. Lives without an aircraft among others that have one count as
 * of one machine, since they may be: otherwise forgetting to write it down would make evidence. Where no life has one, each
 * stands alone (-1).
 */
export function aircraftNumbers(lives: readonly Pick<Life, "aircraft">[]): {
  numbers: Int32Array;
  names: string[];
} {
  const recorded = lives.some(({ aircraft }) => aircraft !== "");
  const index = new Map<string, number>();
  const numbers = Int32Array.from(lives, ({ aircraft }) => {
    if (!recorded) return -1;
    const known = index.get(aircraft);
    if (known !== undefined) return known;
    index.set(aircraft, index.size);
    return index.size - 1;
  });
  return { numbers, names: [...index.keys()].map((name) => name || AIRCRAFT_NOT_RECORDED) };
}

/**
 * Over-limit lives of one group.
 *
 * @param earlyRemovals  "events" (decided on) or "censored" (shown beside it): how removals below the limit count whose
 *                       own line would have reached it within one interval
 */
export function overLimitTable(
  lives: readonly Pick<Life, "aircraft" | "entryHours" | "lowerHours" | "upperHours" | "end" | "lookHours">[],
  earlyRemovals: "events" | "censored" = "events",
): LifeTable {
  const rows = lives.length;
  const entryHours = new Float64Array(rows);
  const lowerHours = new Float64Array(rows);
  const upperHours = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    const life = lives[row]!;
    const censor = earlyRemovals === "censored" && life.end === "early removal";
    entryHours[row] = life.entryHours;
    lowerHours[row] = censor ? Math.max(life.lowerHours, life.lookHours.at(-1) ?? 0) : life.lowerHours;
    upperHours[row] = censor ? Number.POSITIVE_INFINITY : modelledUpper(life.upperHours);
  }
  const count = new Float64Array(rows).fill(1);
  return { rows, entryHours, lowerHours, upperHours, count, cluster: aircraftNumbers(lives).numbers };
}

/** The readings of one group's wear line, with what each component needs for it. */
export interface GroupReadings {
  /** Without a row where only sums of the readings are known: the lives have them. */
  readonly table: WearTable;
  /** Hours at which each component entered observation; 0 where followed from new. */
  readonly entryHours: Float64Array;
  /** Aircraft number of each component; -1 stands alone. */
  readonly cluster: Int32Array;
  /** Which life each component of the table is. */
  readonly lives: readonly Life[];
}

/**
 * Readings of a group. Only first pieces: what a component wore before it moved here was worn elsewhere, and its line
 * does not start at nothing. Moved components speak through the life table.
 */
export function groupReadings(lives: readonly Life[]): GroupReadings {
  const used = lives.filter((life) => life.piece === 1 && readingCount(life) > 0);
  const rows = used.reduce((sum, life) => sum + life.readingHours.length, 0);
  const component = new Int32Array(rows);
  const hours = new Float64Array(rows);
  const wearMm = new Float64Array(rows);
  let row = 0;
  for (const [index, { readingHours, readingWearMm }] of used.entries()) {
    for (let i = 0; i < readingHours.length; i++, row++) {
      component[row] = index;
      hours[row] = readingHours[i]!;
      wearMm[row] = readingWearMm[i]!;
    }
  }
  return {
    table: { rows, components: used.length, component, hours, wearMm },
    entryHours: Float64Array.from(used, (life) => life.entryHours),
    cluster: aircraftNumbers(used).numbers,
    lives: used,
  };
}
