/**
 * One past month-end decided again with only what was exported by then, and held against what the whole record holds of the
 * time after. Past months need nothing of each other, so each can be replayed in a thread of its own: all but the exports
 * comes in and goes out as plain data.
 */
import type { Fleet } from "./fleet/fleet.ts";
import { exportsBy } from "./ingest/exported-by.ts";
import type { ExportSource } from "./ingest/source.ts";
import type { GroupEvidence } from "./interval/evidence.ts";
import { isReviewMonth } from "./interval/history.ts";
import { type Turns, turns } from "./interval/turns.ts";
import { type MonthEvidence, monthEvidence } from "./pipeline.ts";
import { RotorwearError } from "./problems.ts";
import { type GroupKey, type Life, sameGroup } from "./records/life.ts";
import { eventsBetween, laterLooks } from "./replay/later-looks.ts";
import { pastAnswers } from "./replay/past-answers.ts";
import { predictedCounts } from "./replay/predicted-counts.ts";
import type { Proposal } from "./replay/proposals.ts";
import type { GroupAfter, PastMonth } from "./replay/record-result.ts";
import type { StretchCount } from "./replay/totals.ts";
import { firstLooks, type GivenChance, givenChances } from "./replay/watch-calibration.ts";
import { addMonths, type Day, isoMonth, monthEnd } from "./units.ts";

/** Predictions of a month-end are held against the looks of so many months after it. */
export const HORIZON_MONTHS = 6;

/** What the whole record came out as. */
export interface WholeRecord {
  readonly asOf: Day;
  readonly lives: readonly Life[];
  /** Serial of each component number. */
  readonly serials: readonly string[];
}

/** Month-ends to be taken by however many threads. Plain data. */
export interface PastMonths {
  readonly fleet: Fleet;
  readonly whole: WholeRecord;
  readonly days: readonly Day[];
  readonly taken: Turns;
  /** Counts those that are done, whoever did them. */
  readonly done: Turns;
}

/** One past month with what only the totals need. */
export interface ReplayedMonth {
  readonly month: PastMonth;
  readonly stretch: readonly StretchCount[];
  readonly given: readonly GivenChance[];
  readonly proposals: readonly Proposal[];
}

/** A month-end by its place among the days: replayed, or why it can't be. */
export interface MonthOutcome {
  readonly at: number;
  readonly outcome: ReplayedMonth | string;
}

/** Another thread that takes month-ends; who it is is decided where the program starts. */
export interface MonthThread {
  takeMonths(months: PastMonths): Promise<readonly MonthOutcome[]>;
}

/**
 * Takes month-ends until none is left.
 *
 * @param onMonth  hears after each one taken here how many are done in all threads
 */
export async function takeMonths(
  { fleet, whole, days, taken, done }: PastMonths,
  source: ExportSource,
  onMonth: (done: number) => void = () => {},
): Promise<MonthOutcome[]> {
  const outcomes: MonthOutcome[] = [];
  for (const at of turns(taken, days.length)) {
    const next = days[at + 1] ?? whole.asOf;
    outcomes.push({ at, outcome: await replayMonth(fleet, source, whole, days[at]!, next) });
    onMonth(Atomics.add(done, 0, 1) + 1);
  }
  return outcomes;
}

/** @returns the month, or why it can't be replayed */
async function replayMonth(
  fleet: Fleet,
  source: ExportSource,
  whole: WholeRecord,
  day: Day,
  next: Day,
): Promise<ReplayedMonth | string> {
  const then = await exportsBy(fleet, source, day);
  if (then.fleet.exports.wear === undefined && then.fleet.exports.removals === undefined)
    return "no export of looks or removals was there yet";
  let known: MonthEvidence;
  try {
    known = await monthEvidence({
      ...{ fleet: then.fleet, source: then.source },
      ...{ asOf: day, exportedBy: day, onProblem: () => {} },
    });
  } catch (error) {
    // A few files may leave open what all of them settle (which of 03/04 is the month); that month is then not known.
    if (error instanceof RotorwearError) return error.message;
    throw error;
  }
  if (known.lives.length === 0) {
    const [first] = known.exclusions;
    return first === undefined
      ? "no look or removal was on record yet"
      : `no life could be made of the ${known.exclusions.length} components on record yet: ${first.reason}`;
  }
  const until = Math.min(monthEnd(addMonths(day, HORIZON_MONTHS)), whole.asOf);
  const serialOf = whole.serials;
  const nextLooks = firstLooks(laterLooks(whole.lives, day, next), serialOf);
  const { confidence } = fleet.acceptable;
  const groups = known.evidence.map((group) => groupAfter(group, whole, day, until, confidence));
  const { answers, proposals } = pastAnswers(known.judging, known.evidence);
  return {
    month: {
      month: isoMonth(day),
      asOf: day,
      isReview: isReviewMonth(fleet, day),
      ...{ missing: then.missing, files: then.files, answers, until },
      after: groups.map(({ after }) => after),
    },
    stretch: groups.flatMap(({ stretch }) => stretch),
    given: known.evidence.flatMap((group) =>
      givenChances(group, confidence, known.exports.components.serial, nextLooks),
    ),
    proposals,
  };
}

function groupAfter(
  group: GroupEvidence,
  whole: WholeRecord,
  day: Day,
  until: Day,
  confidence: number,
): { readonly after: GroupAfter; readonly stretch: readonly StretchCount[] } {
  const lives = livesOf(whole, group.key);
  const looks = laterLooks(lives, day, until);
  const counts = predictedCounts(group.linesAt(confidence), looks);
  return {
    after: {
      group: group.key,
      counts: counts.map(({ record }) => record),
      looks: looks.length,
      found: looks.filter(({ over }) => over).length,
      removedEarly: looks.filter(({ removedEarly }) => removedEarly).length,
      between: eventsBetween(lives, day, until),
    },
    stretch: counts.map((count) => ({ group: group.key, count })),
  };
}

/** Lives of one group. */
export const livesOf = ({ lives }: WholeRecord, key: GroupKey): readonly Life[] =>
  lives.filter(({ group }) => sameGroup(group, key));
