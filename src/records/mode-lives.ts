/**
 * Lives by what ended them, for failure modes that compete: each mode with the others as censoring, and all together.
 *
 * Modes are "over the limit" (the event that drives intervals, however it came to light) and, for components removed
 * below the limit, the failure mode of their removal. Removals that are no failure, and those where the shop found no
 * fault, end observation without an event.
 */
import { isEvent, modelledUpper } from "./event-table.ts";
import type { Life } from "./life.ts";
import type { LifeTable } from "./life-table.ts";
import { NOT_A_FAILURE, WEAR_MODE } from "./words.ts";

export const OVER_LIMIT_MODE = "over the limit";

/** A life with the hours at which its mode came to light, or at which observation ended. */
export interface LifeByMode {
  readonly entryHours: number;
  readonly hours: number;
  /** null: still good when last known. */
  readonly mode: string | null;
}

/** The mode that ended a life; null where none did. */
export function modeOf(life: Pick<Life, "upperHours" | "removal">): string | null {
  if (isEvent(life)) return OVER_LIMIT_MODE;
  const { removal } = life;
  if (removal === null || removal.mode === NOT_A_FAILURE || removal.noFaultFound) return null;
  return removal.mode === WEAR_MODE ? "wear, removed below the limit" : removal.mode;
}

/** Each life with the hours at which it was found, from those at which it was really watched. */
export const livesByMode = (lives: readonly Life[]): LifeByMode[] =>
  lives.map((life) => ({
    entryHours: life.observedFromHours,
    hours: isEvent(life) ? life.upperHours : life.lastHours,
    mode: modeOf(life),
  }));

/**
 * Life tables of each mode: exact at the removal where it came to light in service, else somewhere since the look before;
 * every other life is censored at its last look, for hours nobody looked at prove nothing.
 *
 * @param cluster  aircraft number of each life
 */
export function modeTables(lives: readonly Life[], cluster: Int32Array): (mode: string) => LifeTable {
  const modes = lives.map(modeOf);
  const entryHours = Float64Array.from(lives, (life) => life.entryHours);
  // A life over the limit was still free of the other modes when it was found so.
  const count = new Float64Array(lives.length).fill(1);
  const lastLooks = Float64Array.from(lives, (life) => Math.max(life.lowerHours, life.lookHours.at(-1) ?? 0));
  return (mode) => {
    const lowerHours = lastLooks.slice();
    const upperHours = new Float64Array(lives.length).fill(Number.POSITIVE_INFINITY);
    for (const [row, its] of modes.entries()) {
      if (its !== mode) continue;
      const [lower, upper] = eventOf(lives[row]!, mode);
      lowerHours[row] = lower;
      upperHours[row] = modelledUpper(upper);
    }
    return {
      rows: lives.length,
      entryHours,
      lowerHours,
      upperHours,
      count,
      cluster,
    };
  };
}

function eventOf(life: Life, mode: string): [lower: number, upper: number] {
  if (mode === OVER_LIMIT_MODE) return [life.lowerHours, life.upperHours];
  if (life.removal!.inService) return [life.lastHours, life.lastHours];
  const before = life.lookHours.filter((hours) => hours < life.lastHours - 1).at(-1) ?? life.entryHours;
  return [Math.max(life.entryHours, before), life.lastHours];
}
