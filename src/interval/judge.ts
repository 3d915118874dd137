/**
 * The decision about one task in one group, from its evidence: risks, direct counts, evidence rules and the answer of the
 * decision table. `recommend.ts` puts it into words and adds what else an officer is shown.
 */
import type { Acceptable, Fleet, Task } from "../fleet/fleet.ts";
import { intervalGrid, type PresentInterval, presentInterval } from "../fleet/intervals.ts";
import type { GroupKey } from "../records/life.ts";
import { looksWithNumber as withNumber } from "../records/life-readings.ts";
import { UNASSIGNED } from "../records/words.ts";
import type { Day } from "../units.ts";
import { countedAtPresent, functionalFailures } from "./counted.ts";
import { type Decided, type DecisionInput, decide } from "./decide.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { type FailureRecord, failuresIn } from "./failure-record.ts";
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
import type { WeighedRisk } from "./weighed-risk.ts";

/** Whether the removal rate of a part in an environment is over its alert level now. */
export interface RemovalAlert extends Pick<GroupKey, "part" | "environment"> {
  /** null: not known. */
  readonly open: boolean | null;
  /** Why it is open or not known. */
  readonly why: string | null;
}

/** What all decisions of a month share: plain data, so that it can go to another thread. */
export interface JudgeContext {
  readonly fleet: Fleet;
  readonly asOf: Day;
  /** Serial of each component number. */
  readonly serials: readonly string[];
  /** Rows of the wear and removal exports; unassigned: with a word that the fleet file doesn't know. */
  readonly rows: { readonly read: number; readonly rejected: number; readonly unassigned: number };
  readonly alerts: readonly RemovalAlert[];
  readonly failures: FailureRecord;
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
  /** Its next look comes after the present interval. */
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

/** The decision about a task in a group, and what it stands on. */
export function judge(task: Task, evidence: GroupEvidence, month: JudgeContext): Judgement {
  const { fleet, asOf } = month;
  const { key } = evidence;
  const present = presentInterval(fleet, task, key.environment, key.standard, asOf);
  const grid = intervalGrid(fleet, present.intervalH);
  const lines = evidence.linesAt(fleet.acceptable.confidence);
  const risks = risksOnGrid(grid, task.tolerance, lines.risks.counted);
  const asked = { task, evidence, month, present, lines };
  const facts = factsOf(asked);
  // An extension puts the oldest component's next look off as well.
  const oldestAt = remembered((intervalH: number) =>
    oldestFitted(evidence, month.serials, intervalH * (1 + task.tolerance), lines),
  );
  const rulesWith = rulesOn(asked, risks, facts, oldestAt);
  const rulesAt = (candidateH: number | null) => rulesWith(candidateH, fleet.acceptable);
  const failureRate: WeighedRisk = {
    name: "functional failures per 1000 h",
    acceptable: fleet.acceptable.functionalFailuresPer1000H,
    value: facts.failures.per1000H,
  };
  const review = reviewNumber(fleet, present.since, asOf);
  const inputWith = (early: EarlyRemovals): DecisionInput => ({
    presentH: present.intervalH,
    largestChange: fleet.intervalSteps.largestChange,
    functionalFailures: failureRate,
    firstInspectionH: facts.firstInspectionHours?.lower ?? null,
    mayExtendTo: (candidateH: number) => allPassed(rulesAt(candidateH)),
    ...gridOf(task, evidence, fleet, grid, early, review),
  });
  const input = inputWith("counted");
  const decided = decide(input);
  const { candidateH } = decided;
  const outcomes = rulesAt(candidateH !== null && candidateH > present.intervalH ? candidateH : null);
  return {
    oldest: oldestAt(present.intervalH),
    ...{ present, lines, risks, ...facts, failureRate, review, input, decided, outcomes, rulesWith },
    withEarlyCensored: decide(inputWith("censored")),
  };
}

/** What is decided about, and from what. */
interface Asked {
  readonly task: Task;
  readonly evidence: GroupEvidence;
  readonly month: JudgeContext;
  readonly present: PresentInterval;
  readonly lines: Lines;
}

/** What the page shows besides the risks, and rules ask about. */
type Facts = Pick<Judgement, "counted" | "failures" | "firstInspectionHours" | "goBack">;

function factsOf({ task, evidence, month, present, lines }: Asked): Facts {
  const { fleet, asOf } = month;
  const { key, lives } = evidence;
  const { confidence } = fleet.acceptable;
  const { intervalH, since } = present;
  return {
    counted: countedAtPresent(lives, intervalH, since, fleet.evidence.presentIntervalBand, confidence),
    failures: functionalFailures(lives, failuresIn(month.failures, key, asOf), confidence),
    firstInspectionHours: firstInspection(fleet, lines),
    goBack: goBackWatch(fleet, task, key, lives, asOf),
  };
}

/** The evidence rules at any interval of the grid; what depends on neither interval nor acceptable risk is worked out once. */
function rulesOn(
  { task, evidence, month, present, lines }: Asked,
  risks: readonly RiskAtInterval[],
  { failures, counted, goBack }: Facts,
  oldestAt: (intervalH: number) => Judgement["oldest"],
): Judgement["rulesWith"] {
  const { fleet, asOf, rows, safeguardsMissing } = month;
  const { key, lives, borrowed } = evidence;
  const checksAt = remembered((intervalH: number) =>
    modelChecks(evidence, lines, intervalH * (1 + task.tolerance), fleet),
  );
  const whatever = {
    ...{ task, asOf, lives, counted, rows, goBack, borrowed, safeguardsMissing },
    group: key,
    presentH: present.intervalH,
    isReview: isReviewMonth(fleet, asOf),
    functionalFailures: failures,
    tenPercentHours: tenPercentHours(lines),
    looksWithNumber: looksWithNumber(evidence),
    alert: alertOf(month, key),
    lastDecision: lastDecision(fleet, task, key, asOf),
  };
  const evaluated = (atH: number, acceptable: Acceptable) =>
    evaluateRules({
      ...whatever,
      fleet: { ...fleet, acceptable },
      atCandidate: risks.find(({ intervalH }) => intervalH === atH)!,
      checks: checksAt(atH),
      oldest: oldestAt(atH),
    } satisfies RuleContext);
  // Other confidences ask again with the same acceptable risks.
  const known = new Map<string, EvidenceOutcome[]>();
  return (candidateH, acceptable) => {
    const atH = candidateH ?? present.intervalH;
    const key = JSON.stringify([atH, acceptable]);
    const outcomes = known.get(key) ?? evaluated(atH, acceptable);
    known.set(key, outcomes);
    return outcomes;
  };
}

/** The alert of a group, or why there is none: no rates at all, or none where it flies. */
function alertOf({ alerts }: JudgeContext, { part, environment }: GroupKey): RuleContext["alert"] {
  const placed = alerts.filter((alert) => alert.environment !== UNASSIGNED);
  if (placed.length === 0) return "no rates";
  const own = placed.find((alert) => alert.part === part && alert.environment === environment);
  return own ?? { open: null, why: `no hours flown in ${environment} are exported` };
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
