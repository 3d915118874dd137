/**
 * One life cut into pieces at its moves, and how each piece ended.
 */

import type { Day } from "../units.ts";
import type { Look, Removal } from "./history.ts";
import type { Life, LifeEnd, RowRef } from "./life.ts";
import { isOver, isSameMoment, type OpenPiece, openPieces, type PieceContext } from "./open-pieces.ts";
import { upperReadingAt } from "./own-line.ts";
import { SAME_HOURS } from "./same-hours.ts";
import type { LifeRun } from "./split-lives.ts";
import { WEAR_MODE } from "./words.ts";

/** The pieces of a life, in order. Looks after the over-limit event stay in their piece as readings only. */
export function piecesOf(run: LifeRun, context: PieceContext): Life[] {
  const open = openPieces(run, context);
  return open.map((piece, index) =>
    finish(piece, index, index === open.length - 1 ? run : null, open, context),
  );
}

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
    const lowerHours = lastGood(over.hours);
    return {
      lowerHours,
      // Hours of two looks in a row may fall by a little, and then be fewer than those it came under observation at.
      upperHours: over.hours >= lowerHours ? over.hours : lowerHours + SAME_HOURS,
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
  if (removal === null) {
    if (moved) return censored("moved");
    if (!context.removalIsMissing) return censored("still fitted");
    // Taken off at its last look or later, nobody wrote why: its own line says whether it was near the limit.
    const last = looks.at(-1);
    if (last === undefined || !wouldBeOver(piece, pieces, last.hours, context)) return censored("removed");
    const lowerHours = lastGood(last.hours - SAME_HOURS);
    const upperHours = Math.max(last.hours, lowerHours + SAME_HOURS);
    return { lowerHours, upperHours, end: "early removal", eventDay: last.day };
  }
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
  const last = pieces.flatMap((p) => p.looks).findLast((look) => look.wearMm !== null);
  const readAtRemoval = last !== undefined && isSameMoment(last, removal);
  if (removal.mode === WEAR_MODE && !removal.noFaultFound && !readAtRemoval) return "unread removal";
  return wouldBeOver(piece, pieces, removal.hours, context) ? "early removal" : null;
}

/** Whether its own line would have reached the limit within one present interval of the hours it was taken off at. */
function wouldBeOver(
  piece: OpenPiece,
  pieces: readonly OpenPiece[],
  offHours: number,
  context: PieceContext,
): boolean {
  const readings = pieces.flatMap((p) => p.looks).filter((look) => look.wearMm !== null);
  const upper = upperReadingAt(
    readings.map((look) => look.hours),
    readings.map((look) => look.wearMm!),
    offHours + (context.presentIntervalH(piece.group) ?? 0),
    context.scatterMm,
  );
  return upper !== null && upper >= context.part.replaceAtMm;
}
