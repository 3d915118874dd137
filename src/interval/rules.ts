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
import { FOLLOWED_RULES } from "./rules-followed.ts";
import { MODEL_RULES } from "./rules-models.ts";

export const EVIDENCE_RULES: readonly EvidenceRule[] = [...COUNT_RULES, ...FOLLOWED_RULES, ...MODEL_RULES];

/** Every rule, evaluated, in the order of the list. */
export const evaluateRules = (context: RuleContext): EvidenceOutcome[] =>
  EVIDENCE_RULES.map(({ rule, asks, evaluate }) => ({ rule, asks, ...evaluate(context) }));

export const allPassed = (outcomes: readonly EvidenceOutcome[]): boolean =>
  outcomes.every(({ outcome }) => outcome !== "failed");
