/**
 * The longer intervals that past months proposed, or whose bounds held though rules failed: each once, from the first
 * month-end that had it.
 */
import type { Task } from "../fleet/fleet.ts";
import type { Judgement } from "../interval/judge.ts";
import type { Bounded } from "../interval/month-result.ts";
import { worse } from "../interval/risks.ts";
import type { GroupKey } from "../records/life.ts";
import type { Day } from "../units.ts";
import type { PastAnswer, ProposalKind } from "./record-result.ts";

export interface Proposal {
  readonly task: Task;
  readonly group: GroupKey;
  readonly fromH: number;
  readonly toH: number;
  readonly month: string;
  readonly asOf: Day;
  readonly kind: ProposalKind;
  readonly failed: readonly string[];
  readonly predicted: Bounded | null;
}

/** Rules that say only that this is not the month, or not yet the version, to decide an extension in. */
const NOT_OF_THE_EVIDENCE: ReadonlySet<string> = new Set(["review", "safeguards"]);

/** The longer interval of one past answer; null where there was none. */
export function proposalOf(
  task: Task,
  answer: PastAnswer,
  { risks }: Pick<Judgement, "risks">,
  when: { readonly month: string; readonly asOf: Day },
): Proposal | null {
  const { candidateH, presentIntervalH, group, failed } = answer;
  if (candidateH === null || candidateH <= presentIntervalH) return null;
  const at = risks.find(({ intervalH }) => intervalH === candidateH)?.overLimitPerInspection;
  return {
    ...{ task, group, failed, ...when },
    fromH: presentIntervalH,
    toH: candidateH,
    kind: kindOf(answer),
    predicted: at === undefined ? null : worse(at.life, at.wear),
  };
}

function kindOf({ answer, failed }: PastAnswer): ProposalKind {
  if (answer === "extend") return "extend";
  return failed.every((rule) => NOT_OF_THE_EVIDENCE.has(rule)) ? "would pass" : "bounds held, rules failed";
}

/** Proposals of one task, group and pair of intervals as one, with the count of months; in order of their first month. */
export function firstOfEach(
  proposals: readonly Proposal[],
): { readonly proposal: Proposal; readonly months: number }[] {
  const each = new Map<string, { proposal: Proposal; months: number }>();
  for (const proposal of proposals) {
    const { task, group, fromH, toH, kind } = proposal;
    const id = JSON.stringify([task.task, group.part, group.environment, group.standard, fromH, toH, kind]);
    const known = each.get(id);
    if (known === undefined) each.set(id, { proposal, months: 1 });
    else known.months++;
  }
  return [...each.values()];
}
