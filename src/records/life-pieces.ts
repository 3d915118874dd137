/**
 * One life cut into pieces at its moves, and how each piece ended.
 */
import type { Day } from "../units.ts";
import type { Entry } from "./entry.ts";
import type { Look, Removal } from "./history.ts";
import {
  ENVIRONMENT_SOURCES,
  type EnvironmentSource,
  type GroupKey,
  type Life,
  type LifeEnd,
  type RowRef,
  sameGroup,
} from "./life.ts";
import { upperReadingAt } from "./own-line.ts";
import type { LifeRun } from "./split-lives.ts";
import { WEAR_MODE } from "./words.ts";

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

/** Two records of one moment may differ by this many hours. */
const SAME_HOURS = 1;

/** A piece while it is being gathered. */
interface OpenPiece {
  readonly group: GroupKey;
  readonly entryHours: number;
  readonly observedFromHours: number;
  readonly lateEntry: boolean;
  readonly looks: Look[];
  environmentFrom: EnvironmentSource;
}

/** The pieces of a life, in order. Looks after the over-limit event stay in their piece as readings only. */
export function piecesOf(run: LifeRun, context: PieceContext): Life[] {
  const open = gather(run, context);
  return open.map((piece, index) =>
    finish(piece, index, index === open.length - 1 ? run : null, open, context),
  );
}

function gather(run: LifeRun, context: PieceContext): OpenPiece[] {
  const { entry, part } = context;
  const placed = (look: Look | Removal, fromDay: Day): { group: GroupKey; from: EnvironmentSource } => {
    const { environment, from } = context.environmentOf(look, fromDay);
    return { group: context.groupOf(environment, look.standard), from };
  };
  const first = run.looks[0] ?? run.removal!;
  const start = placed(first, entry.fromDay);
  const pieces: OpenPiece[] = [
    {
      group: start.group,
      environmentFrom: start.from,
      entryHours: entry.entryHours,
      observedFromHours: entry.observedFromHours,
      lateEntry: entry.entryHours > 0,
      looks: [],
    },
  ];
  let over = false;
  for (let index = 0; index < run.looks.length; index++) {
    const look = run.looks[index]!;
    let piece = pieces.at(-1)!;
    const before = run.looks[index - 1];
    if (before !== undefined && !over) {
      const { group, from } = placed(look, before.day);
      if (!sameGroup(group, piece.group)) {
        piece = {
          group,
          environmentFrom: from,
          entryHours: before.hours,
          observedFromHours: before.hours,
          lateEntry: true,
          looks: [],
        };
        pieces.push(piece);
      } else piece.environmentFrom = weaker(piece.environmentFrom, from);
    }
    piece.looks.push(look);
    over ||= isOver(look, part.replaceAtMm);
  }
  return pieces;
}

const weaker = (a: EnvironmentSource, b: EnvironmentSource): EnvironmentSource =>
  ENVIRONMENT_SOURCES.indexOf(a) > ENVIRONMENT_SOURCES.indexOf(b) ? a : b;

/** At or over the replace-at limit, by number or in words. */
export const isOver = (look: Look, replaceAtMm: number): boolean =>
  look.wearMm === null ? look.overInWords : look.wearMm >= replaceAtMm;

function finish(
  piece: OpenPiece,
  index: number,
  lastRun: LifeRun | null,
  pieces: readonly OpenPiece[],
  context: PieceContext,
): Life {
  const { component, part } = context;
  const { looks } = piece;
  const removal = lastRun?.removal ?? null;
  const end = endOf(piece, pieces, removal, lastRun === null, context);
  const { readingHours, readingWearMm, readingDays, lookHours, lookDays, rows } = listsOf(
    looks,
    part.replaceAtMm,
  );
  if (removal !== null) rows.push(removal.row);
  const lastRow = removal ?? looks.at(-1);
  const failed = removal !== null && isFunctionalFailure(removal);
  return {
    component,
    group: piece.group,
    life: context.life,
    piece: index + 1,
    entryHours: piece.entryHours,
    lateEntry: piece.lateEntry,
    observedFromHours: piece.observedFromHours,
    lastHours: Math.max(piece.observedFromHours, removal?.hours ?? 0, looks.at(-1)?.hours ?? 0),
    lowerHours: end.lowerHours,
    upperHours: end.upperHours,
    end: end.end,
    eventDay: end.eventDay,
    environmentFrom: piece.environmentFrom,
    aircraft: looks.at(-1)?.aircraft || lastRow?.aircraft || "",
    position: looks.at(-1)?.position || lastRow?.position || "",
    firstDay: looks[0]?.day ?? lastRow?.day ?? context.entry.fromDay,
    lastDay: lastRow?.day ?? context.entry.fromDay,
    removedDay: removal?.day ?? null,
    removal:
      removal === null
        ? null
        : { mode: removal.mode, inService: removal.inService, noFaultFound: removal.noFaultFound },
    functionalFailureHours: failed ? removal.hours : null,
    readingHours,
    readingWearMm,
    readingDays,
    lookHours,
    lookDays,
    rows,
  };
}

/** What a piece keeps of its looks: those after the one that found it over the limit as readings only. */
function listsOf(looks: readonly Look[], replaceAtMm: number) {
  const readingHours: number[] = [];
  const readingWearMm: number[] = [];
  const readingDays: Day[] = [];
  const lookHours: number[] = [];
  const lookDays: Day[] = [];
  const rows: RowRef[] = [];
  let over = false;
  for (const look of looks) {
    rows.push(look.row);
    if (!over) {
      lookHours.push(look.hours);
      lookDays.push(look.day);
      over = isOver(look, replaceAtMm);
    }
    if (look.wearMm === null) continue;
    readingHours.push(look.hours);
    readingWearMm.push(look.wearMm);
    readingDays.push(look.day);
  }
  return { readingHours, readingWearMm, readingDays, lookHours, lookDays, rows };
}

/** By wear, and found in service: the function lost between looks. An unconfirmed finding is no failure. */
const isFunctionalFailure = (removal: Removal): boolean =>
  removal.mode === WEAR_MODE && removal.inService && !removal.noFaultFound;

type End = Pick<Life, "lowerHours" | "upperHours" | "end" | "eventDay">;

function endOf(
  piece: OpenPiece,
  pieces: readonly OpenPiece[],
  removal: Removal | null,
  moved: boolean,
  context: PieceContext,
): End {
  const { looks, entryHours } = piece;
  const over = looks.find((look) => isOver(look, context.part.replaceAtMm));
  const lastGood = (before: number) =>
    looks.reduce(
      (most, look) =>
        look.hours < before && !isOver(look, context.part.replaceAtMm) ? Math.max(most, look.hours) : most,
      entryHours,
    );
  if (over) {
    return {
      lowerHours: lastGood(over.hours),
      upperHours: over.hours,
      end: "over limit found",
      eventDay: over.day,
    };
  }
  const lastLookHours = Math.max(entryHours, looks.at(-1)?.hours ?? entryHours);
  const censored = (end: LifeEnd): End => ({
    lowerHours: lastLookHours,
    upperHours: Number.POSITIVE_INFINITY,
    end,
    eventDay: null,
  });
  if (removal === null)
    return censored(moved ? "moved" : context.removalIsMissing ? "removed" : "still fitted");
  const why = overByRemoval(piece, pieces, removal, context);
  if (why === null) return censored("removed");
  // The look that led to the removal was good by its number: the event lies after the look before that one.
  const lowerHours = lastGood(removal.hours - SAME_HOURS);
  return {
    lowerHours,
    upperHours: Math.max(removal.hours, lowerHours + SAME_HOURS),
    end: why,
    eventDay: removal.day,
  };
}

/** Whether a removal without an over-limit look counts as over limit, and as what. */
function overByRemoval(
  piece: OpenPiece,
  pieces: readonly OpenPiece[],
  removal: Removal,
  context: PieceContext,
): LifeEnd | null {
  if (isFunctionalFailure(removal)) return "functional failure";
  const readings = pieces.flatMap((p) => p.looks).filter((look) => look.wearMm !== null);
  const last = readings.at(-1);
  const readAtRemoval =
    last !== undefined && (last.day === removal.day || Math.abs(last.hours - removal.hours) <= SAME_HOURS);
  if (removal.mode === WEAR_MODE && !removal.noFaultFound && !readAtRemoval) return "unread removal";
  const interval = context.presentIntervalH(piece.group) ?? 0;
  const upper = upperReadingAt(
    readings.map((look) => look.hours),
    readings.map((look) => look.wearMm!),
    removal.hours + interval,
    context.scatterMm,
  );
  return upper !== null && upper >= context.part.replaceAtMm ? "early removal" : null;
}
