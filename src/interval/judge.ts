/**
 * The decision about one task in one group, from its evidence: risks, direct counts, evidence rules and the answer of the
 * decision table. `recommend.ts` puts it into words and adds what else an officer is shown.
 */
import type { Acceptable, Fleet, Task } from "../fleet/fleet.ts";
import { intervalGrid, type PresentInterval, presentInterval } from "../fleet/intervals.ts";
import type { GroupKey } from "../records/life.ts";
import { looksWithNumber as withNumber } from "../records/life-readings.ts";
import type { Day } from "../units.ts";
import { countedAtPresent, functionalFailures } from "./counted.ts";
import { type Decided, type DecisionInput, decide, type WeighedRisk } from "./decide.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { type GoBackWatch, goBackWatch } from "./go-back-watch.ts";
import { extensionConfidence, isReviewMonth, lastDecision, reviewNumber } from "./history.ts";
import { hoursAtShare, NEVER_H } from "./hours-at-share.ts";
import { remembered, type SurvivalLine } from "./lines.ts";
import { modelChecks } from "./model-checks.ts";
import type { Bounded, EvidenceOutcome, Recommendation, RiskAtInterval } from "./month-result.ts";
import { oldestFitted } from "./oldest.ts";
import { risksOnGrid, weighed, worse } from "./risks.ts";
import type { RuleContext } from "./rule-context.ts";
import { allPassed, evaluateRules } from "./rules.ts";

/** Whether the removal rate of a part in an environment is over its alert level now. */
export interface RemovalAlert extends Pick<GroupKey, "part" | "environment"> {
  readonly open: boolean;
}

/** What all decisions of a month share: plain data, so that it can go to another thread. */
export interface JudgeContext {
  readonly fleet: Fleet;
  readonly asOf: Day;
  /** Serial of each component number. */
  readonly serials: readonly string[];
  /** Rows of the wear and removal exports. */
  readonly rows: { readonly read: number; readonly rejected: number };
  readonly alerts: readonly RemovalAlert[];
  readonly safeguardsMissing: readonly string[];
}

/** A decision with everything it was made from. */
export interface Judgement {
  readonly present: PresentInterval;
  readonly lines: Lines;
  readonly risks: readonly RiskAtInterval[];
  readonly counted: Recommendation["counted"];
  readonly failures: Recommendation["functionalFailures"];
  readonly failureRate: WeighedRisk;
  readonly firstInspectionHours: Bounded | null;
  readonly oldest: Recommendation["oldest"];
  readonly goBack: GoBackWatch | null;
  /** Number of the review at which an extension would be decided. */
  readonly review: number;
  readonly input: DecisionInput;
  readonly decided: Decided;
  /** The rules at the capped candidate where that is longer than the present interval, else at the present one. */
  readonly outcomes: readonly EvidenceOutcome[];
  /** The rules at any interval with other acceptable risks. */
  readonly rulesWith: (candidateH: number | null, acceptable: Acceptable) => EvidenceOutcome[];
  /** The decision with removals below the limit censored instead of counted. */
  readonly withEarlyCensored: Decided;
}

export function judge(task: Task, evidence: GroupEvidence, month: JudgeContext): Judgement {
  const { fleet, asOf } = month;
  const { key, lives } = evidence;
  const present = presentInterval(fleet, task, key.environment, key.standard, asOf);
  const { confidence } = fleet.acceptable;
  const grid = intervalGrid(fleet, present.intervalH);
  const lines = evidence.linesAt(confidence);
  const risks = risksOnGrid(grid, task.tolerance, lines.risks.counted);
  const counted = countedAtPresent(
    lives,
    present.intervalH,
    present.since,
    fleet.evidence.presentIntervalBand,
    confidence,
  );
  const failures = functionalFailures(lives, asOf, confidence);
  const firstInspectionHours = firstInspection(fleet, lines);
  const oldest = oldestFitted(evidence, month.serials, present.intervalH * (1 + task.tolerance), lines);
  const goBack = goBackWatch(fleet, task, key, lives, asOf);
  const tenPercentH = tenPercentHours(lines);
  const checksAt = remembered((intervalH: number) =>
    modelChecks(evidence, lines, intervalH * (1 + task.tolerance), fleet),
  );
  const looksRead = looksWithNumber(evidence);
  const rulesWith: Judgement["rulesWith"] = (candidateH, acceptable) =>
    evaluateRules({
      fleet: { ...fleet, acceptable },
      task,
      group: key,
      asOf,
      presentH: present.intervalH,
      isReview: isReviewMonth(fleet, asOf),
      lives,
      counted,
      functionalFailures: failures,
      atCandidate: risks.find(({ intervalH }) => intervalH === (candidateH ?? present.intervalH))!,
      tenPercentHours: tenPercentH,
      oldest,
      looksWithNumber: looksRead,
      rows: month.rows,
      alertOpen: alertOpen(month.alerts, key),
      lastDecision: lastDecision(fleet, task, key, asOf),
      goBack,
      checks: checksAt(candidateH ?? present.intervalH),
      borrowed: evidence.borrowed,
      safeguardsMissing: month.safeguardsMissing,
    } satisfies RuleContext);
  const rulesAt = remembered((candidateH: number | null) => rulesWith(candidateH, fleet.acceptable));
  const failureRate: WeighedRisk = {
    name: "functional failures per 1000 h",
    acceptable: fleet.acceptable.functionalFailuresPer1000H,
    value: failures.per1000H,
  };
  const common = {
    presentH: present.intervalH,
    largestChange: fleet.intervalSteps.largestChange,
    functionalFailures: failureRate,
    firstInspectionH: firstInspectionHours?.lower ?? null,
    mayExtendTo: (candidateH: number) => allPassed(rulesAt(candidateH)),
  };
  const review = reviewNumber(fleet, present.since, asOf);
  const inputWith = (early: EarlyRemovals): DecisionInput => ({
    ...common,
    ...gridOf(task, evidence, fleet, grid, early, review),
  });
  const input = inputWith("counted");
  const decided = decide(input);
  const outcomes = rulesAt(
    decided.candidateH !== null && decided.candidateH > present.intervalH ? decided.candidateH : null,
  );
  return {
    ...{ present, lines, risks, counted, failures, failureRate, firstInspectionHours, oldest, goBack },
    ...{ review, input, decided, outcomes, rulesWith },
    withEarlyCensored: decide(inputWith("censored")),
  };
}

/** null where no rate of its removals is known. */
function alertOpen(alerts: readonly RemovalAlert[], { part, environment }: GroupKey): boolean | null {
  const own = alerts.filter((alert) => alert.part === part && alert.environment === environment);
  return own.length === 0 ? null : own.some(({ open }) => open);
}

type EarlyRemovals = "counted" | "censored";

function gridOf(
  task: Task,
  evidence: GroupEvidence,
  fleet: Fleet,
  grid: readonly number[],
  early: EarlyRemovals,
  review: number,
): Pick<DecisionInput, "grid" | "beyondPresent"> {
  const { confidence } = fleet.acceptable;
  const stricter = extensionConfidence(confidence, review);
  const at = (level: number, intervals: readonly number[], upTo?: Acceptable) =>
    weighed(
      risksOnGrid(intervals, task.tolerance, evidence.linesAt(level).risks[early], upTo),
      fleet.acceptable,
      evidence.part,
    );
  return {
    grid: at(confidence, grid),
    beyondPresent: (intervalH) => at(stricter, [intervalH], fleet.acceptable)[0]!,
  };
}

const lineOf = (result: Lines["life"]): SurvivalLine | null => (result.kind === "line" ? result.line : null);

/** Hours by which the acceptable share is over the limit: of the two lines the shorter. null without a line. */
function firstInspection(fleet: Fleet, lines: Lines): Bounded | null {
  const share = fleet.acceptable.overLimitPerInspection;
  // Fewer hours are the worse ones, so their negative is what the lines bound from above.
  const wear = lines.wear.kind === "line" ? lines.wear.line : null;
  const negative = [lineOf(lines.life), wear, ...lines.borrowed]
    .map((line) => line?.bounded((survival) => -hoursAtShare(survival, share)) ?? null)
    .reduce(worse, null);
  if (negative === null) return null;
  return {
    estimate: -negative.estimate,
    lower: negative.upper === null ? null : -negative.upper,
    upper: negative.lower === null ? null : -negative.lower,
  };
}

function tenPercentHours(lines: Lines): number | null {
  const { life } = lines;
  if (life.kind === "none") return null;
  const hours = life.line.estimated((survival) => hoursAtShare(survival, 0.1));
  return hours < NEVER_H ? hours : null;
}

function looksWithNumber({ lives }: GroupEvidence): { numbers: number; looks: number } {
  let numbers = 0;
  let looks = 0;
  for (const life of lives) {
    looks += life.lookHours.length;
    numbers += withNumber(life);
  }
  return { numbers, looks };
}
