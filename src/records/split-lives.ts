/**
 * A component's history cut into lives: runs of one clock from a start to the removal that ended it.
 *
 * A removal that is no failure (or found no fault), followed by looks at the same hours or more, continues the same
 * life, on any aircraft; a later removal with more hours shows that it had been fitted again as well as a look does. Hours that start again after a removal begin the next life. Looks whose hours fit neither the
 * looks before nor those after are left out of the lives and said (they still raise "act now" lines).
 */

import type { Day } from "../units.ts";
import type { History, Look, Removal } from "./history.ts";
import type { RowRef } from "./life.ts";
import { SAME_HOURS } from "./same-hours.ts";
import { looksLikeAnotherUnit } from "./unit-mix.ts";
import { NOT_A_FAILURE } from "./words.ts";

export interface LifeRun {
  readonly looks: readonly Look[];
  /** The removal that ended it; null while it goes on. */
  readonly removal: Removal | null;
  /** How it began: before the first row we have, after a removal, or because hours fell without one. */
  readonly start: "unknown" | "after removal" | "hours fell";
  /** Day of the removal that it began after; null where it began otherwise. */
  readonly removedOn: Day | null;
}

export interface LeftOut {
  readonly reason: string;
  readonly row: RowRef;
}

/** A fitting as the roster has it, with hours on the life's clock. */
export interface FittedAt {
  readonly day: Day;
  readonly hours: number;
}

/**
 * @param replaceAtMm  the part's limit: what a reading in another unit is told by
 * @param fitted       the component's fittings by day: one at fewer hours than the removal before it starts a life
 */
export function splitLives(
  history: History,
  replaceAtMm: number,
  fitted: readonly FittedAt[],
): { runs: LifeRun[]; leftOut: LeftOut[] } {
  const leftOut: LeftOut[] = [];
  const events = withoutOtherUnits(withoutOutOfLine(history.events, leftOut), replaceAtMm, leftOut);
  const runs: LifeRun[] = [];
  let looks: Look[] = [];
  let removal: Removal | null = null;
  let start: LifeRun["start"] = "unknown";
  let removedOn: Day | null = null;
  const close = (next: LifeRun["start"]) => {
    if (looks.length > 0 || removal !== null) runs.push({ looks, removal, start, removedOn });
    looks = [];
    removedOn = next === "after removal" ? (removal?.day ?? null) : null;
    removal = null;
    start = next;
  };
  for (const event of events) {
    const last: Look | Removal | undefined = removal ?? looks.at(-1);
    const fell = last !== undefined && event.hours < last.hours - SAME_HOURS;
    if (removal !== null) {
      if (fell || startsAgain(removal, event, fitted)) close("after removal");
      else if (!continues(removal) || isRepeated(removal, event)) {
        leftOut.push({ row: event.row, reason: afterRemoval(removal, event) });
        continue;
      } else removal = null;
    } else if (fell && event.kind === "look") close("hours fell");
    if (event.kind === "look") looks.push(event);
    else removal = event;
  }
  close("unknown");
  return { runs, leftOut };
}

/** Whether a component may come back to the same life after this removal. */
const continues = (removal: Removal): boolean => removal.mode === NOT_A_FAILURE || removal.noFaultFound;

/** Whether the roster has it fitted between a removal and an event at fewer hours than it was taken off at. */
function startsAgain(removal: Removal, event: Look | Removal, fitted: readonly FittedAt[]): boolean {
  const refitted = fitted.findLast(({ day }) => day >= removal.day && day <= event.day);
  return refitted !== undefined && refitted.hours < removal.hours - SAME_HOURS;
}

/** Whether it was taken off again with no hours flown since: nothing shows that it had been fitted. */
const isRepeated = (removal: Removal, event: Look | Removal): boolean =>
  event.kind === "removal" && event.hours <= removal.hours + SAME_HOURS;

const afterRemoval = (removal: Removal, event: Look | Removal): string =>
  isRepeated(removal, event)
    ? "removed again without having been fitted since"
    : "hours go on after a removal for cause: whether the wear started again is not known";

/** Whether `to` can follow `from` on one clock: hours don't fall, nor grow by more than a day has. */
const canFollow = (from: Look, to: Look): boolean =>
  to.hours >= from.hours - SAME_HOURS && to.hours - from.hours <= 24 * (to.day - from.day + 1);

/**
 * Leaves out single looks whose hours are out of line with their neighbours (a slip of the pen), and events whose hours
 * can't be known. A fall that the later looks confirm is kept: it begins another life.
 */
function withoutOutOfLine(events: History["events"], leftOut: LeftOut[]): (Look | Removal)[] {
  const kept: (Look | Removal)[] = [];
  for (let i = 0; i < events.length; i++) {
    const event = events[i]!;
    if (Number.isNaN(event.hours)) {
      leftOut.push({ row: event.row, reason: "its hours can't be known: no fitting to convert them by" });
      continue;
    }
    const before = kept.at(-1);
    if (event.kind === "look" && before?.kind === "look" && !canFollow(before, event)) {
      const after = events[i + 1];
      const verdict = judge(kept.at(-2), before, event, after?.kind === "look" ? after : undefined);
      if (verdict === "event is out of line") {
        leftOut.push({ row: event.row, reason: "its hours fit neither the looks before nor those after" });
        continue;
      }
      if (verdict === "look before is out of line") {
        leftOut.push({ row: before.row, reason: "its hours fit neither the looks before nor those after" });
        kept.pop();
      }
    }
    kept.push(event);
  }
  return kept;
}

/** Leaves out readings that the readings on both sides show to be in another unit. The last one of a run stays. */
function withoutOtherUnits(
  events: readonly (Look | Removal)[],
  replaceAtMm: number,
  leftOut: LeftOut[],
): (Look | Removal)[] {
  return events.filter((event, i) => {
    const before = events[i - 1];
    const after = events[i + 1];
    if (event.kind !== "look" || before?.kind !== "look" || after?.kind !== "look") return true;
    if (event.wearMm === null || before.wearMm === null || after.wearMm === null) return true;
    if (!looksLikeAnotherUnit(event.wearMm, before.wearMm, after.wearMm, replaceAtMm)) return true;
    leftOut.push({
      row: event.row,
      reason: "the readings before and after show it to be in another unit (correct it and export again)",
    });
    return false;
  });
}

function judge(
  earlier: Look | Removal | undefined,
  before: Look,
  event: Look,
  after: Look | undefined,
): "event is out of line" | "look before is out of line" | "both stand" {
  if (after === undefined || canFollow(before, after)) return "event is out of line";
  if (!canFollow(event, after)) return "event is out of line";
  if (earlier?.kind === "look" && canFollow(earlier, event)) return "look before is out of line";
  // The looks after agree with the event: a fall is another life; an impossible jump means the look before was wrong.
  return event.hours < before.hours ? "both stand" : "look before is out of line";
}
