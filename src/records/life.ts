/**
 * Lives and their events, with the rows that made each: what `lives.csv` publishes and the life tables are cut from.
 */
import type { Day } from "../units.ts";
import type { ReadingSums } from "./life-readings.ts";

/** The unit of analysis. */
export interface GroupKey {
  readonly part: string;
  readonly environment: string;
  readonly standard: string;
}

/** Whether two keys name the same group. */
export const sameGroup = (a: GroupKey, b: GroupKey): boolean =>
  a.part === b.part && a.environment === b.environment && a.standard === b.standard;

/** The exports that a life's rows may be in. */
export const ROW_KINDS = ["wear", "removals", "installed", "lives"] as const;

/** How many components lives, exclusions or stretches of flying are of. */
export const componentCount = (things: readonly { readonly component: number }[]): number =>
  new Set(things.map(({ component }) => component)).size;

/** One row of an export (or of a table of lives): number of the file in ReadExports.files, physical line, which export. */
export interface RowRef {
  readonly kind: (typeof ROW_KINDS)[number];
  readonly file: number;
  readonly line: number;
}

/** Where an environment came from: hours as flown, the fitted aircraft's base, or only what the later row records; strongest first. */
export const ENVIRONMENT_SOURCES = ["flying", "base", "later reading"] as const;
export type EnvironmentSource = (typeof ENVIRONMENT_SOURCES)[number];

/** How a life left observation in its group. */
export const LIFE_ENDS = [
  "over limit found", // a look at or over R, or the words for it
  "functional failure", // by wear, in service
  "early removal", // removed below R, its own line would have reached R within one interval: counts as over limit
  "unread removal", // removed for wear with no reading to show how much: counts as over limit
  "removed", // removed below R for another reason: censored at the last good look
  "moved", // went on in another environment or with another standard
  "still fitted",
] as const;
export type LifeEnd = (typeof LIFE_ENDS)[number];

/** A removal as a life ends with it. */
export interface LifeRemoval {
  /** Failure mode of the fleet file's causes, "not a failure" or "unassigned". */
  readonly mode: string;
  /** It came to light between looks. */
  readonly inService: boolean;
  readonly noFaultFound: boolean;
}

/**
 * The part of one component's life that was spent in one group. Hours are on the life's clock.
 * An event lies in (lowerHours, upperHours]; without one, upperHours is Infinity and the life is censored at its last
 * good look, `lowerHours`.
 */
export interface Life {
  /** Number of the component in ReadExports.components. */
  readonly component: number;
  readonly group: GroupKey;
  /** Which life of the component (1 = the first in the records), and which piece of it (1 = up to the first move). */
  readonly life: number;
  readonly piece: number;
  readonly entryHours: number;
  readonly lowerHours: number;
  readonly upperHours: number;
  readonly end: LifeEnd;
  /** True where entryHours is not from new, so the life counts only given that it got that far. */
  readonly lateEntry: boolean;
  /** Hours from which this piece was really watched (at or after entryHours), and the last hours known of it. */
  readonly observedFromHours: number;
  readonly lastHours: number;
  /** The weakest of what said where its hours were flown. */
  readonly environmentFrom: EnvironmentSource;
  /** Aircraft of the last row in the piece; "" where the exports record none. */
  readonly aircraft: string;
  readonly position: string;
  readonly firstDay: Day;
  readonly lastDay: Day;
  /** Day of the look or removal that gave the event; null without one. */
  readonly eventDay: Day | null;
  /** Day the component was taken off at the end of this piece; null where it went on. */
  readonly removedDay: Day | null;
  /** What it was taken off for; null where it went on. */
  readonly removal: LifeRemoval | null;
  /** Hours at which it failed in service by wear; null where it did not. */
  readonly functionalFailureHours: number | null;
  /** Numeric readings of this piece, in order of hours. */
  readonly readingHours: readonly number[];
  readonly readingWearMm: readonly number[];
  readonly readingDays: readonly Day[];
  /** In place of the readings, where a table of sums was given and not the readings. */
  readonly summed?: ReadingSums | undefined;
  /** Looks of this piece (numeric or in words), in order of hours. */
  readonly lookHours: readonly number[];
  readonly lookDays: readonly Day[];
  readonly rows: readonly RowRef[];
}

/** A component, or rows of it, that could not enter the lives, and why. */
export interface Exclusion {
  readonly component: number;
  readonly reason: string;
  readonly rows: readonly RowRef[];
}
