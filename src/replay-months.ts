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
import { undatedExports } from "./ingest/exported-by.ts";
import { readExports } from "./ingest/read-exports.ts";
import type { ExportSource } from "./ingest/source.ts";
import { fleetLives } from "./interval/fleet-lives.ts";
import { assertExportsReach, lastMonthEnd } from "./interval/reported-day.ts";
import { noneTaken } from "./interval/turns.ts";
import { ExportError } from "./problems.ts";
import type { ReadExports } from "./records/exports.ts";
import { grantedRecord } from "./replay/granted-record.ts";
import { firstOfEach } from "./replay/proposals.ts";
import type { PastRecord } from "./replay/record-result.ts";
import { monthlyCounts, type StretchCount, totalsOf } from "./replay/totals.ts";
import { watchCalibration } from "./replay/watch-calibration.ts";
import {
  HORIZON_MONTHS,
  livesOf,
  type MonthThread,
  type ReplayedMonth,
  takeMonths,
  type WholeRecord,
} from "./replay-month.ts";
import { addMonths, type Day, isoMonth, monthEnd } from "./units.ts";

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
  /** Other threads that replay months. __Default value:__ none */
  readonly monthThreads?: readonly MonthThread[];
}

/**
 * Replays the month-ends up to the as-of day. One that can't be (no export by then, or none that can be read by itself)
 * is skipped with its reason.
 *
 * @throws ExportError where the exports can't be used, or no month-end at all can be replayed
 */
export async function replayMonths(options: ReplayOptions): Promise<PastRecord> {
  const { fleet } = options;
  const { confidence } = fleet.acceptable;
  const { whole, exports } = await wholeRecord(options);
  const days = monthEnds(whole.asOf, options.months);
  const replayed: ReplayedMonth[] = [];
  const skipped: { month: string; why: string }[] = [];
  for (const [at, outcome] of (await outcomesOf(options, whole, days)).entries()) {
    if (typeof outcome === "string") skipped.push({ month: isoMonth(days[at]!), why: outcome });
    else replayed.push(outcome);
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
    inputs: exports.files.map(({ file, kind, sha256, exported }) => ({ file, kind, sha256, exported })),
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

async function wholeRecord({
  fleet,
  source,
  asOf,
}: ReplayOptions): Promise<{ readonly whole: WholeRecord; readonly exports: ReadExports }> {
  const exports = await readExports(fleet, source, () => {});
  const day = asOf ?? lastMonthEnd(exports.latestDay);
  assertExportsReach(day, exports.latestDay);
  const { lives } = fleetLives(fleet, exports, day);
  return { whole: { asOf: day, lives, serials: exports.components.serial }, exports };
}

/** Every month-end, in their order, whoever replayed it. */
async function outcomesOf(
  { fleet, source, monthThreads = [], onMonth = () => {} }: ReplayOptions,
  whole: WholeRecord,
  days: readonly Day[],
): Promise<(ReplayedMonth | string)[]> {
  const months = { fleet, whole, days, taken: noneTaken(), done: noneTaken() };
  const theirs = Promise.all(monthThreads.map((thread) => thread.takeMonths(months)));
  // Should a month of this thread's own fail, that is the error told; theirs must not count as unheard.
  theirs.catch(() => {});
  const mine = await takeMonths(months, source, (done) => onMonth(done, days.length));
  const outcomes: (ReplayedMonth | string)[] = [];
  for (const { at, outcome } of [...mine, ...(await theirs).flat()]) outcomes[at] = outcome;
  onMonth(days.length, days.length);
  return outcomes;
}

/** The last `count` month-ends on or before a day, oldest first. */
export function monthEnds(day: Day, count: number): Day[] {
  const last = monthEnd(day) === day ? day : monthEnd(addMonths(day, -1));
  return Array.from({ length: count }, (_, k) => monthEnd(addMonths(last, k + 1 - count)));
}

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
