/** One recommendation: a task in a group, its decision put into words, with what else an officer is shown. */
import type { Task } from "../fleet/fleet.ts";
import type { PresentInterval } from "../fleet/intervals.ts";
import { sameGroup } from "../records/life.ts";
import { borrowedClause, borrowedSentence } from "./borrowed-words.ts";
import type { WouldChange } from "./choices-result.ts";
import { choiceCosts } from "./costs.ts";
import { functionalFailures } from "./counted.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { failuresIn } from "./failure-record.ts";
import { componentHoursPerYear, type FlownLastYear } from "./flown-last-year.ts";
import { goBackProposal, sinceChange } from "./go-back-result.ts";
import { extensionConfidence, lastDecision } from "./history.ts";
import { type JudgeContext, type Judgement, judge } from "./judge.ts";
import type { ActNowLine, Recommendation } from "./month-result.ts";
import { notKnownOf } from "./not-known.ts";
import { allPassed } from "./rules.ts";
import { sentenceOf } from "./sentence.ts";
import { whatIf } from "./what-if.ts";
import { monthsToSettle, wouldChange } from "./would-change.ts";

/** What all recommendations of a month share. */
export interface MonthContext extends JudgeContext {
  readonly actNow: readonly ActNowLine[];
  readonly flown: FlownLastYear | null;
  readonly slugOf: (...words: string[]) => string;
}

/** A recommendation from its own group; the scenario of seals, which all groups of the part tell together, is added later. */
export type OwnRecommendation = Omit<Recommendation, "wouldChange"> & {
  readonly wouldChange: Omit<WouldChange, "sealsIn">;
};

export function recommend(task: Task, evidence: GroupEvidence, month: MonthContext): OwnRecommendation {
  const { fleet, asOf } = month;
  const { key, lives } = evidence;
  const judged = judge(task, evidence, month);
  const recorded = failuresIn(month.failures, key, asOf);
  const { present, lines, risks, decided, outcomes, goBack, review } = judged;
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
    counted: judged.counted,
    functionalFailures: judged.failures,
    firstInspectionHours: judged.firstInspectionHours,
    oldest: judged.oldest,
    evidence: outcomes,
    sentence: sentenceFor(judged, evidence, month) + borrowedClause(evidence.borrowed),
    notKnown: [...notKnownOf(evidence, lines, fleet, task), ...evidence.borrowed.map(borrowedSentence)],
    borrowed: evidence.borrowed,
    lastDecision: lastDecision(fleet, task, key, asOf),
    actNow: month.actNow.filter(({ group }) => sameGroup(group, key)),
    sinceChange: goBack === null ? null : sinceChange(goBack, lives),
    goBackProposed: goBackProposal(decided, risks, fleet),
    wouldChange: wouldChange({
      ...{ fleet, task, evidence, lines, risks, asOf },
      presentH: present.intervalH,
      longestH: decided.longestByBoundH,
    }),
    costs: choiceCosts(
      task,
      risks,
      lines,
      evidence.otherRemovalsPerHour,
      componentHoursPerYear(month.flown, lives, key),
    ),
    whatIf: whatIf({
      ...{ fleet, evidence, tolerance: task.tolerance, published: judged.input, risks, review },
      failuresAt: (level) => functionalFailures(lives, recorded, level).per1000H,
      mayExtendTo: (candidateH, acceptable) =>
        month.safeguardsMissing.length === 0 && allPassed(judged.rulesWith(candidateH, acceptable)),
    }),
    observedToHours: evidence.greatestAgeH > 0 ? evidence.greatestAgeH : null,
    withEarlyRemovalsCensored: {
      recommendation: judged.withEarlyCensored.answer,
      recommendedIntervalH: judged.withEarlyCensored.recommendedH,
    },
  };
}

function sentenceFor(judged: Judgement, evidence: GroupEvidence, { fleet, asOf }: MonthContext): string {
  const { present, risks, outcomes } = judged;
  const { confidence } = fleet.acceptable;
  return sentenceOf({
    decided: judged.decided,
    presentH: present.intervalH,
    confidence,
    grid: judged.input.grid,
    extensionConfidence: extensionConfidence(confidence, judged.review),
    rulesAsked: outcomes.filter(({ outcome }) => outcome !== "not applicable").length,
    failed: outcomes.filter(({ outcome }) => outcome === "failed"),
    monthsToSettle: monthsToSettle(
      risks.find(({ intervalH }) => intervalH === present.intervalH)!,
      evidence,
      fleet,
      asOf,
    ),
    functionalFailures: judged.failureRate,
    whyNoBound: whyNoBound(judged.lines),
  });
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
