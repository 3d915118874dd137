/**
 * The table of contents of a replay: past month-ends decided again with only what was exported by then, and held against
 * what the whole record holds of the time after.
 *
 *   whole record ─ lives as they came out ──────────────────┐
 *   each month-end ─ exports by then ─ evidence ─ answers ──┴─ predicted against found, chances, extensions granted
 *
 * Settings are today's fleet file; of its decisions and reviews each month knows those dated by then. No files, no clock.
 */
import { createHash } from "node:crypto";
import type { Fleet } from "./fleet/fleet.ts";
import { exportsBy, undatedExports } from "./ingest/exported-by.ts";
import { readExports } from "./ingest/read-exports.ts";
import type { ExportSource } from "./ingest/source.ts";
import type { GroupEvidence } from "./interval/evidence.ts";
import { fleetLives } from "./interval/fleet-lives.ts";
import { isReviewMonth } from "./interval/history.ts";
import { assertExportsReach, lastMonthEnd } from "./interval/reported-day.ts";
import { type MonthEvidence, monthEvidence } from "./pipeline.ts";
import { ExportError, RotorwearError } from "./problems.ts";
import type { ReadExports } from "./records/exports.ts";
import { type GroupKey, type Life, sameGroup } from "./records/life.ts";
import { grantedRecord } from "./replay/granted-record.ts";
import { eventsBetween, laterLooks } from "./replay/later-looks.ts";
import { pastAnswers } from "./replay/past-answers.ts";
import { predictedCounts } from "./replay/predicted-counts.ts";
import { firstOfEach, type Proposal } from "./replay/proposals.ts";
import type { GroupAfter, PastMonth, PastRecord } from "./replay/record-result.ts";
import { monthlyCounts, type StretchCount, totalsOf } from "./replay/totals.ts";
import { firstLooks, type GivenChance, givenChances, watchCalibration } from "./replay/watch-calibration.ts";
import { addMonths, type Day, isoMonth, monthEnd } from "./units.ts";

/** Predictions of a month-end are held against the looks of so many months after it. */
export const HORIZON_MONTHS = 6;

export interface ReplayOptions {
  readonly fleet: Fleet;
  readonly fleetText: string;
  readonly source: ExportSource;
  /** null: the last month-end on or before the latest date in the exports. */
  readonly asOf: Day | null;
  /** How many month-ends, the last one at or before the as-of day. */
  readonly months: number;
  readonly program: string;
  /** Hears after each month-end how many are done, of how many. */
  readonly onMonth?: (done: number, of: number) => void;
}

/** What the whole record came out as. */
interface WholeRecord {
  readonly asOf: Day;
  readonly exports: ReadExports;
  readonly lives: readonly Life[];
}

/** One past month with what only the totals need. */
interface ReplayedMonth {
  readonly month: PastMonth;
  readonly stretch: readonly StretchCount[];
  readonly given: readonly GivenChance[];
  readonly proposals: readonly Proposal[];
}

/**
 * Replays the month-ends up to the as-of day. One that can't be (no export by then, or none that can be read by itself)
 * is skipped with its reason.
 *
 * @throws ExportError where the exports can't be used, or no month-end at all can be replayed
 */
export async function replayMonths(options: ReplayOptions): Promise<PastRecord> {
  const { fleet, source, onMonth = () => {} } = options;
  const { confidence } = fleet.acceptable;
  const whole = await wholeRecord(options);
  const days = monthEnds(whole.asOf, options.months);
  const replayed: ReplayedMonth[] = [];
  const skipped: { month: string; why: string }[] = [];
  for (const [i, day] of days.entries()) {
    const next = days[i + 1] ?? whole.asOf;
    const outcome = await replayMonth(fleet, source, whole, day, next);
    if (typeof outcome === "string") skipped.push({ month: isoMonth(day), why: outcome });
    else replayed.push(outcome);
    onMonth(i + 1, days.length);
  }
  if (replayed.length === 0) throw nothingReplayed(skipped);
  const stretches = tiled(replayed);
  return {
    fleet,
    month: isoMonth(days.at(-1)!),
    asOf: whole.asOf,
    program: options.program,
    settingsSha256: createHash("sha256").update(options.fleetText, "utf8").digest("hex"),
    monthsAsked: options.months,
    horizonMonths: HORIZON_MONTHS,
    inputs: whole.exports.files.map(({ file, kind, sha256, exported }) => ({ file, kind, sha256, exported })),
    undated: undatedExports(fleet),
    months: replayed.map(({ month }) => month),
    skipped,
    totals: totalsOf(stretches),
    monthly: monthlyCounts(stretches),
    watch: watchCalibration(
      replayed.flatMap(({ given }) => given),
      confidence,
    ),
    granted: firstOfEach(replayed.flatMap(({ proposals }) => proposals)).map(({ proposal, months }) =>
      grantedRecord(fleet, proposal, livesOf(whole, proposal.group), whole.asOf, months),
    ),
  };
}

async function wholeRecord({ fleet, source, asOf }: ReplayOptions): Promise<WholeRecord> {
  const exports = await readExports(fleet, source, () => {});
  const day = asOf ?? lastMonthEnd(exports.latestDay);
  assertExportsReach(day, exports.latestDay);
  return { asOf: day, exports, lives: fleetLives(fleet, exports, day).lives };
}

/** The last `count` month-ends on or before a day, oldest first. */
export function monthEnds(day: Day, count: number): Day[] {
  const last = monthEnd(day) === day ? day : monthEnd(addMonths(day, -1));
  return Array.from({ length: count }, (_, k) => monthEnd(addMonths(last, k + 1 - count)));
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
  const serialOf = whole.exports.components.serial;
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

const livesOf = ({ lives }: WholeRecord, key: GroupKey): readonly Life[] =>
  lives.filter(({ group }) => sameGroup(group, key));

/** Every sixth month-end's predictions: each later look then counts once, predicted up to six months ahead. */
function tiled(replayed: readonly ReplayedMonth[]): StretchCount[] {
  const stretches: StretchCount[] = [];
  let from = Number.NEGATIVE_INFINITY;
  for (const { month, stretch } of replayed) {
    if (month.asOf < from) continue;
    stretches.push(...stretch);
    from = month.until;
  }
  return stretches;
}

function nothingReplayed(skipped: readonly { month: string; why: string }[]): ExportError {
  const reasons = [...new Set(skipped.map(({ why }) => why))].map((why) => {
    const months = skipped.filter((one) => one.why === why).map(({ month }) => month);
    return `${months[0]}${months.length === 1 ? "" : ` to ${months.at(-1)}`}: ${why}`;
  });
  return new ExportError(
    "E-NO-FILE",
    `expected a month-end that can be replayed, found none in ${skipped.length} (${reasons.join("; ")}); nothing was published`,
  );
}
