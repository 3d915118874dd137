/** What a past month would have said: each task's answer in each group, and the longer intervals among them. */
import type { GroupEvidence } from "../interval/evidence.ts";
import { type JudgeContext, judge } from "../interval/judge.ts";
import { isoMonth } from "../units.ts";
import { type Proposal, proposalOf } from "./proposals.ts";
import type { PastAnswer } from "./record-result.ts";

/** Answers in the order of a month's report. */
export function pastAnswers(
  month: JudgeContext,
  evidence: readonly GroupEvidence[],
): { readonly answers: readonly PastAnswer[]; readonly proposals: readonly Proposal[] } {
  const { fleet, asOf } = month;
  const answers: PastAnswer[] = [];
  const proposals: Proposal[] = [];
  for (const task of fleet.tasks) {
    for (const group of evidence) {
      if (group.key.part !== task.part) continue;
      const { present, decided, outcomes, risks } = judge(task, group, month);
      const answer: PastAnswer = {
        task: task.task,
        group: group.key,
        basis: task.basis,
        presentIntervalH: present.intervalH,
        answer: decided.answer,
        row: decided.row,
        recommendedIntervalH: decided.recommendedH,
        candidateH: decided.candidateH,
        longestByBoundH: decided.longestByBoundH,
        governing: decided.governing,
        failed: outcomes.filter(({ outcome }) => outcome === "failed").map(({ rule }) => rule),
      };
      answers.push(answer);
      const proposal = proposalOf(task, answer, { risks }, { month: isoMonth(asOf), asOf });
      if (proposal !== null) proposals.push(proposal);
    }
  }
  return { answers, proposals };
}
