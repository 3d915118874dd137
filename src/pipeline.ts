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
import { withBorrowing } from "./interval/borrow.ts";
import { type GroupEvidence, groupEvidence } from "./interval/evidence.ts";
import { fleetLives, shortestInterval } from "./interval/fleet-lives.ts";
import { groupResult } from "./interval/group-result.ts";
import { isReviewMonth } from "./interval/history.ts";
import type { JudgeContext } from "./interval/judge.ts";
import { lifeComparisons } from "./interval/life-comparison.ts";
import type { Month, Recommendation } from "./interval/month-result.ts";
import { overdueContext } from "./interval/overdue.ts";
import { ProblemTally } from "./interval/problem-tally.ts";
import { type MonthContext, recommend } from "./interval/recommend.ts";
import { lastMonthEnd } from "./interval/reported-day.ts";
import { SAFEGUARDS_MISSING } from "./interval/safeguards.ts";
import { groupSlugs } from "./interval/slugs.ts";
import { trendResult } from "./interval/trend-result.ts";
import { byChance, watchList } from "./interval/watch-list.ts";
import { watchRecord } from "./interval/watch-record.ts";
import { rateWithSealsIn, wearFindings } from "./interval/wear-findings.ts";
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
}

/** A month up to what its decisions stand on. */
export interface MonthEvidence {
  readonly asOf: Day;
  readonly exports: ReadExports;
  readonly inputs: readonly SettledLedger[];
  readonly lives: readonly Life[];
  readonly exclusions: Lives["exclusions"];
  readonly trends: readonly PartTrend[];
  readonly evidence: readonly GroupEvidence[];
  readonly judging: JudgeContext;
}

/** Exports to the evidence of each group: what a month decides on, and what a replay asks of a past one. */
export async function monthEvidence(
  options: Pick<MonthOptions, "fleet" | "source" | "asOf" | "onProblem" | "onStage"> & ReadOptions,
): Promise<MonthEvidence> {
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

  // 4. Each group's evidence.
  onStage("fits");
  const alone = livesByGroup(lives).map(([key, own]) =>
    groupEvidence(
      key,
      own,
      fleet.parts.find(({ part }) => part === key.part)!,
      fleet.acceptable.detectionChance,
      fleet.acceptable.confidence,
    ),
  );
  const evidence = withBorrowing(alone, fleet);
  const judging: JudgeContext = {
    fleet,
    asOf,
    exports,
    rows: reduced === null ? rowCounts(inputs) : NO_ROWS,
    alertOpen: ({ key, part }) => {
      const own = trends.filter((t) => fleet.parts[t.part] === part && t.environment === key.environment);
      return own.length === 0 ? null : own.some(({ alerts }) => alerts.open);
    },
    safeguardsMissing: SAFEGUARDS_MISSING,
  };
  return { asOf, exports, inputs, lives, exclusions, trends, evidence, judging };
}

/** One month, computed. */
export async function runMonth(options: MonthOptions): Promise<Month> {
  const { fleet, onStage = () => {} } = options;
  const problems = new ProblemTally(options.onProblem);
  const month = await monthEvidence({ ...options, onProblem: problems.take });
  const { asOf, exports, inputs, lives, exclusions, trends, evidence } = month;

  // 5. What needs a person today; no model has a say in it.
  onStage("act now");
  const alarms = actNow({ exports, fleet, asOf, lives, overdue: overdueContext(exports, fleet, asOf) });

  // 6. Each task's recommendation in each group.
  onStage("wear findings");
  const slugOf = groupSlugs(
    fleet,
    evidence.map(({ key }) => key),
  );
  const partWear = wearFindings(fleet, exports, lives, asOf);
  const context: MonthContext = {
    ...month.judging,
    actNow: alarms,
    slugOf,
    rateWithSealsIn: (group) => rateWithSealsIn(partWear, group),
  };
  onStage("recommendations");
  const recommendations: Recommendation[] = [];
  for (const task of fleet.tasks) {
    for (const group of evidence)
      if (group.key.part === task.part) recommendations.push(recommend(task, group, context));
  }

  // 7. Fitted components by their chance of being over the limit at the next look.
  onStage("watch list");
  const watched = evidence
    .flatMap((group) => {
      const spacingH = longestSpacing(fleet, group.key, asOf);
      const lines = group.linesAt(fleet.acceptable.confidence);
      return spacingH === null ? [] : watchList(group, lines, spacingH, exports.components.serial);
    })
    .sort(byChance);

  // 8. Everything the pages say.
  onStage("group results");
  return {
    fleet,
    month: isoMonth(asOf),
    asOf,
    latestDay: exports.latestDay,
    isReview: isReviewMonth(fleet, asOf),
    program: options.program,
    settingsSha256: createHash("sha256").update(options.fleetText, "utf8").digest("hex"),
    inputs,
    unknownWords: exports.unknownWords,
    problems: problems.counts(),
    exclusions,
    serials: exports.components.serial,
    actNow: alarms,
    groups: evidence.map((group) =>
      groupResult(group, recommendations, slugOf, {
        confidence: fleet.acceptable.confidence,
        spacingH: longestSpacing(fleet, group.key, asOf),
        exports,
      }),
    ),
    recommendations,
    watchList: watched,
    watchRecord: watchRecord(evidence, fleet.acceptable.confidence),
    partWear,
    trends: trends.map((trend) =>
      trendResult(trend, fleet.parts[trend.part]!.part, fleet.acceptable.confidence),
    ),
    lifeComparisons: lifeComparisons(evidence, fleet.acceptable.confidence),
    gapQuarters: gapQuarters(exports, fleet.sealGaps, asOf),
    changes: null,
  };
}

/** Hours to the next look at the shortest present interval, flown as late as its tolerance allows; null without a task. */
function longestSpacing(fleet: Fleet, group: GroupKey, asOf: Day): number | null {
  const interval = shortestInterval(fleet, group, asOf);
  if (interval === null) return null;
  const tolerance = Math.max(
    ...fleet.tasks.filter(({ part }) => part === group.part).map((task) => task.tolerance),
  );
  return interval * (1 + tolerance);
}

/** Of rows that were read elsewhere nothing is known, and the rule that asks fails. */
const NO_ROWS = { read: 0, rejected: 0 };

/** Tables of lives are of one day: what is known on another they don't say. */
function assertMadeFor(madeFor: Day, asOf: Day): void {
  if (madeFor === asOf) return;
  throw new ExportError(
    "E-AS-OF",
    `the tables of lives and sums were made up to ${isoDate(madeFor)}, and ${isoDate(asOf)} is asked for; make them again up to that day`,
  );
}

/** Rows read and rejected of the exports that lives are made from. */
function rowCounts(inputs: Month["inputs"]): { read: number; rejected: number } {
  const counted = inputs.filter(({ kind }) => kind === "wear" || kind === "removals");
  return {
    read: counted.reduce((sum, { read }) => sum + read, 0),
    rejected: counted.reduce((sum, { rejected }) => sum + rejected, 0),
  };
}
