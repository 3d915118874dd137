/**
 * What looks at a longer spacing would have found, from the later record itself: each component's own readings,
 * interpolated between its looks and, past its last one, carried on along its own straight line. No model of the group
 * has a say in it, since a model is what is on trial.
 *
 * A component is looked at next one spacing after its last look before the day, and so on while it is good. Between a
 * good look and the find that ended its life the wear is read off the straight line between the two readings; once over
 * it stays over. Whether a look still due at the record's end would have been made by then goes by the component's own
 * hours a day. Wear past the limit counts with the part's `beyondLimitFactor`, where it is carried on.
 */
import { clopperPearson } from "../math/exact-bounds.ts";
import type { Life } from "../records/life.ts";
import { upperReadingAt } from "../records/own-line.ts";
import type { Day } from "../units.ts";
import type { GrantedLooks } from "./record-result.ts";

export interface GrantedQuestion {
  /** The lives of the group, as the whole record has them. */
  readonly lives: readonly Life[];
  /** Day from which looks are made at the longer spacing, and the record's last day. */
  readonly from: Day;
  readonly until: Day;
  readonly spacingH: number;
  readonly replaceAtMm: number;
  readonly unsafeAtMm: number | null;
  readonly beyondLimitFactor: number;
  /** Two-sided, of the share's bounds. */
  readonly confidence: number;
}

/** What one look would have found. */
export type LookOutcome =
  | { readonly kind: "below" | "below carried on" | "not known" | "left before" }
  | { readonly kind: "over" | "over carried on" | "failed before"; readonly wearMm: number | null };

/** Every look that would have been made, counted. */
export function grantedLooks(question: GrantedQuestion): GrantedLooks {
  const pace = groupPace(question.lives);
  const outcomes = question.lives.flatMap((life) => looksOf(life, question, pace));
  const count = (kind: LookOutcome["kind"]) => outcomes.filter((one) => one.kind === kind).length;
  const [over, overCarriedOn, failedBefore] = [
    count("over"),
    count("over carried on"),
    count("failed before"),
  ];
  const [below, belowCarriedOn] = [count("below"), count("below carried on")];
  const bad = over + overCarriedOn + failedBefore;
  const decided = bad + below + belowCarriedOn;
  const { unsafeAtMm } = question;
  const past = outcomes.filter(
    (one) => "wearMm" in one && one.wearMm !== null && unsafeAtMm !== null && one.wearMm >= unsafeAtMm,
  );
  return {
    ...{ over, overCarriedOn, below, belowCarriedOn, failedBefore },
    notKnown: count("not known"),
    leftBefore: count("left before"),
    pastUnsafe: unsafeAtMm === null ? null : past.length,
    share: decided === 0 ? null : clopperPearson(bad, decided, question.confidence),
  };
}

/** The looks of one piece of a life at the longer spacing, up to the first that doesn't find it good. */
export function looksOf(life: Life, question: GrantedQuestion, groupHPerDay: number | null): LookOutcome[] {
  const { from, until, spacingH } = question;
  if (life.lastDay <= from || (life.eventDay !== null && life.eventDay <= from)) return [];
  const before = life.lookDays.findLastIndex((day) => day <= from);
  let hours = before < 0 ? life.entryHours : life.lookHours[before]!;
  const outcomes: LookOutcome[] = [];
  for (;;) {
    hours += spacingH;
    const outcome = outcomeAt(life, hours, question);
    // A look that would not have come due by the record's end is none, whatever is known of the component by then: else
    // those found over would count and those still good would not.
    if (outcome.kind !== "below" && (dueDay(life, hours, groupHPerDay) ?? until + 1) > until) return outcomes;
    outcomes.push(outcome);
    if (outcome.kind !== "below" && outcome.kind !== "below carried on") return outcomes;
  }
}

/** The day a component would have come to some hours: at its own pace, or at the group's where it has none to tell by. */
function dueDay(life: Life, hours: number, groupHPerDay: number | null): Day | null {
  const lastHours = life.lookHours.at(-1) ?? life.entryHours;
  if (hours <= lastHours) return life.lastDay;
  const { flownH, days } = flownBetweenLooks(life);
  const hPerDay = flownH > 0 && days > 0 ? flownH / days : groupHPerDay;
  return hPerDay === null ? null : (life.lookDays.at(-1) ?? life.firstDay) + (hours - lastHours) / hPerDay;
}

function flownBetweenLooks({ lookHours, lookDays }: Life): { flownH: number; days: number } {
  if (lookHours.length < 2) return { flownH: 0, days: 0 };
  return { flownH: lookHours.at(-1)! - lookHours[0]!, days: lookDays.at(-1)! - lookDays[0]! };
}

/** Hours a day over all lives of a group; null where no life was looked at twice. */
function groupPace(lives: readonly Life[]): number | null {
  let flownH = 0;
  let days = 0;
  for (const life of lives) {
    const own = flownBetweenLooks(life);
    flownH += own.flownH;
    days += own.days;
  }
  return flownH > 0 && days > 0 ? flownH / days : null;
}

function outcomeAt(life: Life, hours: number, question: GrantedQuestion): LookOutcome {
  const good = lastGoodHours(life);
  if (hours <= good) return { kind: "below" };
  switch (life.end) {
    case "over limit found":
      return hours < life.upperHours
        ? betweenReadings(life, hours, question)
        : { kind: "over", wearMm: wearPastFind(life, hours, question) };
    case "functional failure":
      return hours >= life.upperHours ? { kind: "failed before", wearMm: null } : { kind: "not known" };
    case "unread removal":
      return hours >= life.upperHours ? { kind: "over", wearMm: null } : { kind: "not known" };
    case "removed":
      return hours > life.lastHours ? { kind: "left before" } : carriedOn(life, hours, question);
    case "moved":
      return { kind: "left before" };
    case "early removal":
    case "still fitted":
      return carriedOn(life, hours, question);
  }
}

/** Hours up to which the component was seen to be good; an early removal's last reading was below the limit too. */
const lastGoodHours = (life: Life): number =>
  life.end === "over limit found" ? life.lowerHours : (life.lookHours.at(-1) ?? life.entryHours);

/** Between the last good look and the find: on the straight line between their readings, where both have one. */
function betweenReadings(life: Life, hours: number, { replaceAtMm }: GrantedQuestion): LookOutcome {
  const foundMm = readingAt(life, life.upperHours);
  const goodMm = readingAt(life, life.lowerHours) ?? (life.lowerHours === 0 ? 0 : null);
  if (foundMm === null || goodMm === null) return { kind: "not known" };
  const share = (hours - life.lowerHours) / (life.upperHours - life.lowerHours);
  const wearMm = goodMm + share * (foundMm - goodMm);
  return wearMm >= replaceAtMm ? { kind: "over", wearMm } : { kind: "below" };
}

function readingAt(life: Life, hours: number): number | null {
  const at = life.readingHours.indexOf(hours);
  return at < 0 ? null : life.readingWearMm[at]!;
}

/** Along the component's own line past its last reading. */
function carriedOn(life: Life, hours: number, question: GrantedQuestion): LookOutcome {
  const { replaceAtMm, beyondLimitFactor } = question;
  const lineMm = upperReadingAt(life.readingHours, life.readingWearMm, hours, 0);
  if (lineMm === null) return { kind: "not known" };
  if (lineMm < replaceAtMm) return { kind: "below carried on" };
  return { kind: "over carried on", wearMm: replaceAtMm + (lineMm - replaceAtMm) * beyondLimitFactor };
}

/** Wear at some hours after the find, at the component's own pace times the factor; null where it was found in words. */
function wearPastFind(life: Life, hours: number, { beyondLimitFactor }: GrantedQuestion): number | null {
  const foundMm = readingAt(life, life.upperHours);
  const lineMm = upperReadingAt(life.readingHours, life.readingWearMm, hours, 0);
  const atFindMm = upperReadingAt(life.readingHours, life.readingWearMm, life.upperHours, 0);
  if (foundMm === null || lineMm === null || atFindMm === null) return null;
  return foundMm + Math.max(0, lineMm - atFindMm) * beyondLimitFactor;
}
