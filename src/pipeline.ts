/**
 * The table of contents: exports and a fleet file in, everything a month's pages say out.
 *
 *   fleet file ──┐
 *                ├─ ingest ─ rows ─ records ─ lives ─┬─ life  ─┐
 *   CSV exports ─┘     │                             ├─ wear  ─┼─ interval ─ recommendations ─ Month ─ report ─ pages
 *                   rejected                         └─ trend ─┘
 *
 * No files, no clock, no randomness without a stated seed: the source of the exports and the as-of day come in.
 */
import { createHash } from "node:crypto";
import type { Fleet } from "./fleet/fleet.ts";
import { type ReadOptions, readExports } from "./ingest/read-exports.ts";
import { readLifeTables } from "./ingest/read-life-tables.ts";
import type { ReadingMeans } from "./ingest/read-texts.ts";
import type { ExportSource } from "./ingest/source.ts";
import { actNow } from "./interval/act-now.ts";
import { answerParts, type PartAnswers } from "./interval/answer-parts.ts";
import type { GroupEvidence } from "./interval/evidence.ts";
import { failureRecord } from "./interval/failure-record.ts";
import { fleetGaps } from "./interval/fleet-gaps.ts";
import { fleetLives } from "./interval/fleet-lives.ts";
import { flownLastYear } from "./interval/flown-last-year.ts";
import { withHoursFlown } from "./interval/flown-since-look.ts";
import { isReviewMonth } from "./interval/history.ts";
import type { JudgeContext } from "./interval/judge.ts";
import type { GroupResult, Month, Recommendation } from "./interval/month-result.ts";
import { withSources } from "./interval/odd-lines.ts";
import { overdueContext } from "./interval/overdue.ts";
import { partJobs } from "./interval/part-jobs.ts";
import type { PartThread } from "./interval/part-pieces.ts";
import { evidenceOf } from "./interval/part-work.ts";
import { ProblemTally } from "./interval/problem-tally.ts";
import { lastMonthEnd } from "./interval/reported-day.ts";
import { SAFEGUARDS_MISSING } from "./interval/safeguards.ts";
import { alertWhy, trendResult } from "./interval/trend-result.ts";
import { byChance } from "./interval/watch-list.ts";
import { watchRecord } from "./interval/watch-record.ts";
import { ExportError, type RowProblem } from "./problems.ts";
import type { ReadExports } from "./records/exports.ts";
import type { GroupKey, Life } from "./records/life.ts";
import type { Lives } from "./records/lives.ts";
import { livesByGroup } from "./records/lives-by-group.ts";
import { type SettledLedger, settleRows } from "./records/settle-rows.ts";
import { gapQuarters } from "./trend/gap-quarters.ts";
import { type PartTrend, removalTrends } from "./trend/removal-trends.ts";
import { type Day, isoDate, isoMonth } from "./units.ts";

export interface MonthOptions {
  readonly fleet: Fleet;
  /** The fleet file's own text: its hash says which settings made the month. */
  readonly fleetText: string;
  readonly source: ExportSource;
  /** null: the last month-end on or before the latest date in the exports. */
  readonly asOf: Day | null;
  /** Name and version, for every page. */
  readonly program: string;
  readonly onProblem: (problem: RowProblem) => void;
  /** Hears of each stage as it begins. */
  readonly onStage?: (stage: string) => void;
  /** Other threads to read with, and what was read before. __Default value:__ neither */
  readonly means?: ReadingMeans;
  /** Other threads that answer groups. __Default value:__ none */
  readonly partThreads?: readonly PartThread[];
}

type ReadMonthOptions = Pick<MonthOptions, "fleet" | "source" | "asOf" | "onProblem" | "onStage"> &
  ReadOptions;

/** A month up to its lives. */
export interface MonthRecords {
  readonly asOf: Day;
  readonly exports: ReadExports;
  readonly inputs: readonly SettledLedger[];
  readonly lives: readonly Life[];
  readonly exclusions: Lives["exclusions"];
  readonly trends: readonly PartTrend[];
  readonly judging: JudgeContext;
}

/** A month up to what its decisions stand on. */
export interface MonthEvidence extends MonthRecords {
  readonly evidence: readonly GroupEvidence[];
}

/** Exports to lives, and what else all groups share. */
async function monthRecords(options: ReadMonthOptions): Promise<MonthRecords> {
  const { fleet, onStage = () => {} } = options;

  // 1. Exports to columns; every row accounted for.
  onStage("reading");
  const read = await readExports(fleet, options.source, options.onProblem, options);
  const { tables } = fleet;
  const reduced =
    tables === undefined ? null : await readLifeTables({ ...fleet, tables }, options.source, read);
  const exports = reduced?.exports ?? read;
  const asOf = options.asOf ?? reduced?.asOf ?? lastMonthEnd(exports.latestDay);
  if (reduced !== null) assertMadeFor(reduced.asOf, asOf);
  const inputs = settleRows(exports, asOf);

  // 2. Rows to lives and their events.
  onStage("lives");
  const { lives, exclusions } = reduced ?? fleetLives(fleet, exports, asOf);

  // 3. Trends of removals.
  onStage("trends");
  const trends = removalTrends(exports, asOf, {
    windowMonths: fleet.alerts.windowMonths,
    confidence: fleet.acceptable.confidence,
  });
  const judging: JudgeContext = {
    ...{ fleet, asOf },
    serials: exports.components.serial,
    rows: reduced === null ? rowCounts(inputs) : NO_ROWS,
    alerts: trends.map(({ part, environment, alerts }) => ({
      part: fleet.parts[part]!.part,
      ...{ environment, open: alerts.open, why: alertWhy(alerts) },
    })),
    failures: failureRecord(fleet, exports, lives, asOf),
    safeguardsMissing: SAFEGUARDS_MISSING,
  };
  return { asOf, exports, inputs, lives, exclusions, trends, judging };
}

/** Exports to the evidence of each group: what a replay asks of a past month. */
export async function monthEvidence(options: ReadMonthOptions): Promise<MonthEvidence> {
  const month = await monthRecords(options);
  options.onStage?.("fits");
  return { ...month, evidence: evidenceOf(options.fleet, month.judging.serials, month.lives) };
}

/** One month, computed. */
export async function runMonth(options: MonthOptions): Promise<Month> {
  const { fleet, onStage = () => {} } = options;
  const problems = new ProblemTally(options.onProblem);
  const records = await monthRecords({ ...options, onProblem: problems.take });
  const { asOf, exports, lives } = records;

  // 4. What needs a person today; no model has a say in it.
  onStage("act now");
  const overdue = overdueContext(exports, fleet, asOf);
  const { failures } = records.judging;
  const alarms = actNow({ exports, fleet, asOf, lives, overdue, failures });

  // 5. Each part by itself: fits, comparisons, recommendations, watch list, groups' numbers.
  onStage("gaps");
  const groups = livesByGroup(lives);
  const jobs = partJobs(
    groups.map(([key]) => key),
    lives,
    fleetGaps(fleet, exports, asOf),
    {
      judging: records.judging,
      month: { actNow: alarms, flown: flownLastYear(exports, asOf) },
    },
  );
  const answers = await answerParts(jobs, options.partThreads ?? [], onStage);

  // 6. Everything the pages say.
  onStage("month");
  const { confidence } = fleet.acceptable;
  return {
    ...{ fleet, asOf, month: isoMonth(asOf), latestDay: exports.latestDay, program: options.program },
    isReview: isReviewMonth(fleet, asOf),
    settingsSha256: createHash("sha256").update(options.fleetText, "utf8").digest("hex"),
    inputs: records.inputs,
    unknownWords: exports.unknownWords,
    problems: problems.counts(),
    exclusions: records.exclusions,
    serials: exports.components.serial,
    actNow: alarms,
    groups: groupResults(groups, answers, exports),
    recommendations: inOrderOfTasks(fleet, answers),
    watchList: withHoursFlown(answers.flatMap(({ watched }) => watched).sort(byChance), overdue),
    watchRecord: watchRecord(
      answers.flatMap(({ watchTallies }) => watchTallies),
      confidence,
    ),
    partWear: fleet.parts.flatMap(({ part }) => answers.find((one) => one.part === part)?.wear ?? []),
    trends: records.trends.map((trend) => trendResult(trend, fleet.parts[trend.part]!.part, confidence)),
    lifeComparisons: answers.flatMap(({ lifeComparison }) => lifeComparison ?? []),
    gapQuarters: gapQuarters(exports, fleet.sealGaps, asOf),
    changes: null,
  };
}

/** The groups' numbers with their lives and the places of odd readings. */
function groupResults(
  groups: readonly (readonly [GroupKey, readonly Life[]])[],
  answers: readonly PartAnswers[],
  exports: ReadExports,
): GroupResult[] {
  const found = answers.flatMap((one) => one.groups);
  const checks = withSources(
    exports,
    found.map(({ wearChecks }) => wearChecks),
  );
  return found.map((group, g) => ({ ...group, wearChecks: checks[g]!, lives: groups[g]![1] }));
}

const inOrderOfTasks = (fleet: Fleet, answers: readonly PartAnswers[]): Recommendation[] =>
  fleet.tasks.flatMap(({ task }) =>
    answers.flatMap(({ recommendations }) => recommendations.filter((one) => one.task === task)),
  );

/** Of rows that were read elsewhere nothing is known, and the rule that asks fails. */
const NO_ROWS = { read: 0, rejected: 0, unassigned: 0 };

/** Tables of lives are of one day: what is known on another they don't say. */
function assertMadeFor(madeFor: Day, asOf: Day): void {
  if (madeFor === asOf) return;
  throw new ExportError(
    "E-AS-OF",
    `the tables of lives and sums were made up to ${isoDate(madeFor)}, and ${isoDate(asOf)} is asked for; make them again up to that day`,
  );
}

/** Rows read and rejected of the exports that lives are made from. */
function rowCounts(inputs: Month["inputs"]): JudgeContext["rows"] {
  const counted = inputs.filter(({ kind }) => kind === "wear" || kind === "removals");
  const sum = (pick: (input: (typeof counted)[number]) => number) =>
    counted.reduce((total, input) => total + pick(input), 0);
  return {
    read: sum(({ read }) => read),
    rejected: sum(({ rejected }) => rejected),
    unassigned: sum(({ unassigned }) => unassigned),
  };
}
