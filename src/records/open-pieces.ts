/**
 * A life cut at its moves: each piece the looks whose hours were flown in one group, before how it ended is asked.
 */

import type { Day } from "../units.ts";
import type { Entry } from "./entry.ts";
import type { Look, Removal } from "./history.ts";
import { ENVIRONMENT_SOURCES, type EnvironmentSource, type GroupKey, sameGroup } from "./life.ts";
import { SAME_HOURS } from "./same-hours.ts";
import type { LifeRun } from "./split-lives.ts";
import { UNASSIGNED } from "./words.ts";

export interface PieceContext {
  readonly component: number;
  readonly life: number;
  readonly part: { readonly part: string; readonly replaceAtMm: number };
  readonly entry: Entry;
  /** Scatter of readings about a component's own line. */
  readonly scatterMm: number;
  readonly presentIntervalH: (group: GroupKey) => number | null;
  readonly groupOf: (environment: string, standard: string) => GroupKey;
  /** Environment of the hours between `fromDay` and a look, and what says so. */
  readonly environmentOf: (look: Look | Removal, fromDay: Day) => EnvironmentOfHours;
  /** True where hours began again without a removal on record: it was taken off all the same. */
  readonly removalIsMissing: boolean;
}

export interface EnvironmentOfHours {
  readonly environment: string;
  readonly from: EnvironmentSource;
}

/** A piece while it is being gathered. */
export interface OpenPiece {
  readonly group: GroupKey;
  readonly entryHours: number;
  readonly observedFromHours: number;
  readonly lateEntry: boolean;
  readonly looks: Look[];
  environmentFrom: EnvironmentSource;
}

/** The pieces of a life, in order; the last may have no look but only the removal. */
export function openPieces(run: LifeRun, context: PieceContext): OpenPiece[] {
  const { entry, part, environmentOf, groupOf } = context;
  const first = run.looks[0] ?? run.removal!;
  const start = environmentOf(first, entry.fromDay);
  const pieces: OpenPiece[] = [
    {
      group: groupOf(start.environment, first.standard),
      environmentFrom: start.from,
      entryHours: entry.entryHours,
      observedFromHours: entry.observedFromHours,
      lateEntry: entry.entryHours > 0,
      looks: [],
    },
  ];
  let over = false;
  let before: Look | null = null;
  for (const look of run.looks) {
    if (before !== null && !over) goOn(pieces, before, look, look.standard, context);
    pieces.at(-1)!.looks.push(look);
    over ||= isOver(look, part.replaceAtMm);
    before = look;
  }
  const { removal } = run;
  if (removal !== null && before !== null && !over && !isSameMoment(before, removal)) {
    // The removal is the last that is known of it. Its standard is the last look's: the cell may say what came after.
    goOn(pieces, before, removal, pieces.at(-1)!.group.standard, context);
  }
  return pieces;
}

/** Opens the next piece where the hours between two moments were flown in another group; without any, nothing moved. */
function goOn(
  pieces: OpenPiece[],
  before: Look,
  next: Look | Removal,
  standard: string,
  context: PieceContext,
): void {
  if (!(next.hours > before.hours + SAME_HOURS)) return;
  const piece = pieces.at(-1)!;
  const { environment, from } = context.environmentOf(next, before.day);
  if (next.kind === "removal" && environment === UNASSIGNED) return;
  const group = context.groupOf(environment, standard);
  if (sameGroup(group, piece.group)) {
    piece.environmentFrom = weaker(piece.environmentFrom, from);
    return;
  }
  pieces.push({
    group,
    environmentFrom: from,
    entryHours: before.hours,
    observedFromHours: before.hours,
    lateEntry: true,
    looks: [],
  });
}

/** A look and a removal of one day, or at the same hours. */
export const isSameMoment = (look: Look, removal: Removal): boolean =>
  look.day === removal.day || Math.abs(look.hours - removal.hours) <= SAME_HOURS;

const weaker = (a: EnvironmentSource, b: EnvironmentSource): EnvironmentSource =>
  ENVIRONMENT_SOURCES.indexOf(a) > ENVIRONMENT_SOURCES.indexOf(b) ? a : b;

/** At or over the replace-at limit, by number or in words. */
export const isOver = (look: Look, replaceAtMm: number): boolean =>
  look.wearMm === null ? look.overInWords : look.wearMm >= replaceAtMm;
