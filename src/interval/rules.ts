/**
 * The evidence rules of an extension, as data: what each asks, what it found, whether it passed, and what would settle
 * it. A rule that can't be evaluated fails. Thresholds come from the fleet file; their defaults and reasons stand in
 * fleet/defaults.ts. They follow the data-quality points of the IMRBPB evolution and optimisation guidance (issue
 * paper 44).
 */

import type { EvidenceOutcome } from "./month-result.ts";
import type { RuleContext } from "./rule-context.ts";
import type { EvidenceRule } from "./rule-outcome.ts";
import { COUNT_RULES } from "./rules-counts.ts";
import { DECISION_RULE, decisionOutcome } from "./rules-decision.ts";
import { FOLLOWED_RULES } from "./rules-followed.ts";
import { MODEL_RULES } from "./rules-models.ts";

const OTHER_RULES: readonly EvidenceRule[] = [...COUNT_RULES, ...FOLLOWED_RULES, ...MODEL_RULES];

/** Name and question of every rule, in the order in which they are shown. */
export const EVIDENCE_RULES: readonly Pick<EvidenceRule, "rule" | "asks">[] = [
  ...COUNT_RULES,
  DECISION_RULE,
  ...FOLLOWED_RULES,
  ...MODEL_RULES,
];

/** Every rule, evaluated, in the order of the list. */
export function evaluateRules(context: RuleContext): EvidenceOutcome[] {
  const others = OTHER_RULES.map(({ rule, asks, evaluate }) => ({ rule, asks, ...evaluate(context) }));
  // What the authority asked for may name another rule, so it is answered after them.
  const decision = { ...DECISION_RULE, ...decisionOutcome(context, others) };
  return [...others.slice(0, COUNT_RULES.length), decision, ...others.slice(COUNT_RULES.length)];
}

/** Whether no rule failed. */
export const allPassed = (outcomes: readonly EvidenceOutcome[]): boolean =>
  outcomes.every(({ outcome }) => outcome !== "failed");
