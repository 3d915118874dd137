/** One recommendation: a task in a group, from its evidence to a sentence. */
import type { Acceptable, Fleet, Task } from "../fleet/fleet.ts";
import { intervalGrid, type PresentInterval, presentInterval } from "../fleet/intervals.ts";
import type { ReadExports } from "../records/exports.ts";
import { type GroupKey, sameGroup } from "../records/life.ts";
import type { Day } from "../units.ts";
import { choiceCosts, componentHoursPerYear } from "./costs.ts";
import { countedAtPresent, functionalFailures } from "./counted.ts";
import { type DecisionInput, decide } from "./decide.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { goBackProposal, sinceChange } from "./go-back-result.ts";
import { goBackWatch } from "./go-back-watch.ts";
import { extensionConfidence, isReviewMonth, lastDecision, reviewNumber } from "./history.ts";
import { hoursAtShare } from "./hours-at-share.ts";
import { remembered, type SurvivalLine } from "./lines.ts";
import { modelChecks } from "./model-checks.ts";
import type { ActNowLine, Bounded, EvidenceOutcome, Recommendation } from "./month-result.ts";
import { notKnownOf } from "./not-known.ts";
import { oldestFitted } from "./oldest.ts";
import { risksOnGrid, weighed, worse } from "./risks.ts";
import type { RuleContext } from "./rule-context.ts";
import { allPassed, evaluateRules } from "./rules.ts";
import { sentenceOf } from "./sentence.ts";
import { whatIf } from "./what-if.ts";
import { monthsToSettle, wouldChange } from "./would-change.ts";

/** What all recommendations of a month share. */
export interface MonthContext {
  readonly fleet: Fleet;
  readonly asOf: Day;
  readonly exports: ReadExports;
  /** Rows of the wear and removal exports. */
  readonly rows: { readonly read: number; readonly rejected: number };
  readonly alertOpen: (evidence: GroupEvidence) => boolean | null;
  readonly actNow: readonly ActNowLine[];
  readonly slugOf: (...words: string[]) => string;
  readonly safeguardsMissing: readonly string[];
  /** A group's rate with every seal in tolerance, as a share of its rate as flown; null: not known. */
  readonly rateWithSealsIn: (group: GroupKey) => number | null;
}

export function recommend(task: Task, evidence: GroupEvidence, month: MonthContext): Recommendation {
  const { fleet, asOf } = month;
  const { key, lives } = evidence;
  const present = presentInterval(fleet, task, key.environment, key.standard, asOf);
  const confidence = fleet.acceptable.confidence;
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
  const oldest = oldestFitted(evidence, month.exports, present.intervalH * (1 + task.tolerance), lines);
  const goBack = goBackWatch(fleet, task, key, lives, asOf);
  const tenPercentH = tenPercentHours(lines);
  const checksAt = remembered((intervalH: number) =>
    modelChecks(evidence, lines, intervalH * (1 + task.tolerance), fleet),
  );
  const rulesWith = (candidateH: number | null, acceptable: Acceptable): EvidenceOutcome[] =>
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
      looksWithNumber: looksWithNumber(evidence),
      rows: month.rows,
      alertOpen: month.alertOpen(evidence),
      lastDecision: lastDecision(fleet, task, key, asOf),
      goBack,
      checks: checksAt(candidateH ?? present.intervalH),
      safeguardsMissing: month.safeguardsMissing,
    } satisfies RuleContext);
  const rulesAt = remembered((candidateH: number | null) => rulesWith(candidateH, fleet.acceptable));
  const common = {
    presentH: present.intervalH,
    largestChange: fleet.intervalSteps.largestChange,
    functionalFailures: {
      name: "functional failures per 1000 h",
      acceptable: fleet.acceptable.functionalFailuresPer1000H,
      value: failures.per1000H,
    },
    firstInspectionH: firstInspectionHours?.lower ?? null,
    mayExtendTo: (candidateH: number) => allPassed(rulesAt(candidateH)),
  };
  const inputWith = (early: EarlyRemovals): DecisionInput =>
    decisionInput(task, evidence, fleet, grid, early, present, asOf, common);
  const published = inputWith("counted");
  const decided = decide(published);
  const outcomes = rulesAt(
    decided.candidateH !== null && decided.candidateH > present.intervalH ? decided.candidateH : null,
  );
  const censored = decide(inputWith("censored"));
  return {
    slug: month.slugOf(task.task, key.environment, key.standard),
    task: task.task,
    taskReference: task.reference,
    group: key,
    basis: task.basis,
    presentIntervalH: present.intervalH,
    presentFrom: presentFromText(present),
    calendarMonths: task.calendarMonths,
    recommendation: decided.answer,
    row: decided.row,
    recommendedIntervalH: decided.recommendedH,
    candidateH: decided.candidateH,
    longestByEstimateH: decided.longestByEstimateH,
    longestByBoundH: decided.longestByBoundH,
    governing: decided.governing,
    risks,
    counted,
    functionalFailures: failures,
    firstInspectionHours,
    oldest,
    evidence: outcomes,
    sentence: sentenceOf({
      decided,
      presentH: present.intervalH,
      confidence,
      risks,
      acceptable: fleet.acceptable,
      extensionConfidence: extensionConfidence(confidence, reviewNumber(fleet, present.since, asOf)),
      rulesAsked: outcomes.filter(({ outcome }) => outcome !== "not applicable").length,
      failed: outcomes.filter(({ outcome }) => outcome === "failed"),
      monthsToSettle: monthsToSettle(
        risks.find(({ intervalH }) => intervalH === present.intervalH)!,
        evidence,
        fleet,
        asOf,
      ),
      functionalFailures: common.functionalFailures,
      whyNoBound: whyNoBound(lines),
    }),
    notKnown: notKnownOf(evidence, lines, fleet, task),
    lastDecision: lastDecision(fleet, task, key, asOf),
    actNow: month.actNow.filter(({ group }) => sameGroup(group, key)),
    sinceChange: goBack === null ? null : sinceChange(goBack, lives),
    goBackProposed: goBackProposal(decided, risks, fleet),
    wouldChange: wouldChange({
      ...{ fleet, task, evidence, lines, risks, asOf },
      presentH: present.intervalH,
      longestH: decided.longestByBoundH,
      rateWithSealsIn: month.rateWithSealsIn(key),
    }),
    costs: choiceCosts(
      task,
      risks,
      lines,
      evidence.otherRemovalsPerHour,
      componentHoursPerYear(month.exports, lives, key, asOf),
    ),
    whatIf: whatIf({
      ...{ fleet, evidence, tolerance: task.tolerance, published, risks },
      review: reviewNumber(fleet, present.since, asOf),
      failuresAt: (level) => functionalFailures(lives, asOf, level).per1000H,
      mayExtendTo: (candidateH, acceptable) =>
        month.safeguardsMissing.length === 0 && allPassed(rulesWith(candidateH, acceptable)),
    }),
    observedToHours: evidence.greatestAgeH > 0 ? evidence.greatestAgeH : null,
    withEarlyRemovalsCensored: {
      recommendation: censored.answer,
      recommendedIntervalH: censored.recommendedH,
    },
  };
}

type EarlyRemovals = "counted" | "censored";

function decisionInput(
  task: Task,
  evidence: GroupEvidence,
  fleet: Fleet,
  grid: readonly number[],
  early: EarlyRemovals,
  present: PresentInterval,
  asOf: Day,
  common: Omit<DecisionInput, "grid" | "beyondPresent">,
): DecisionInput {
  const { confidence } = fleet.acceptable;
  const stricter = extensionConfidence(confidence, reviewNumber(fleet, present.since, asOf));
  const at = (level: number, intervals: readonly number[]) =>
    weighed(
      risksOnGrid(intervals, task.tolerance, evidence.linesAt(level).risks[early]),
      fleet.acceptable,
      evidence.part,
    );
  return {
    ...common,
    grid: at(confidence, grid),
    beyondPresent: (intervalH) => at(stricter, [intervalH])[0]!,
  };
}

const lineOf = (result: Lines["life"]): SurvivalLine | null => (result.kind === "line" ? result.line : null);

/** Hours by which the acceptable share is over the limit: of the two lines the shorter. null without a line. */
function firstInspection(fleet: Fleet, lines: Lines): Bounded | null {
  const share = fleet.acceptable.overLimitPerInspection;
  // Fewer hours are the worse ones, so their negative is what the lines bound from above.
  const negative = [lineOf(lines.life), lines.wear.kind === "line" ? lines.wear.line : null]
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
  return life.kind === "line" ? life.line.estimated((survival) => hoursAtShare(survival, 0.1)) : null;
}

function looksWithNumber({ lives }: GroupEvidence): { numbers: number; looks: number } {
  let numbers = 0;
  let looks = 0;
  for (const life of lives) {
    const read = new Set(life.readingHours);
    looks += life.lookHours.length;
    numbers += life.lookHours.filter((hours) => read.has(hours)).length;
  }
  return { numbers, looks };
}

function presentFromText({ source, reference, since }: PresentInterval): string {
  const where =
    source === "decision" ? "decision" : source === "exception" ? "exception of the task" : source;
  const day = since === null ? "" : `, since ${new Date(since * 86_400_000).toISOString().slice(0, 10)}`;
  return `${where}${reference === null ? "" : `, ${reference}`}${day}`;
}

/** What each line lacks, in words. */
function whyNoBound({ life, wear }: Lines): string {
  const words = (line: Lines["life"] | Lines["wear"]) =>
    line.kind === "none" ? line.why : line.line.standsOn;
  return `From lives: ${words(life)}. From wear: ${words(wear)}.`;
}
