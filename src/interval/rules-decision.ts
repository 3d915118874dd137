/** The evidence rule about what the authority asked for at its last refusal or deferral. */
import type { Decision } from "../fleet/fleet.ts";
import type { EvidenceOutcome } from "./month-result.ts";
import { type ConditionState, conditionState, parseRevisit } from "./revisit.ts";
import type { RuleContext } from "./rule-context.ts";
import { type Outcome, verdict } from "./rule-outcome.ts";

export const DECISION_RULE = {
  rule: "last decision",
  asks: "Has what the authority asked for at its last refusal been met?",
} as const;

const isOpen = (decision: Decision): boolean =>
  decision.outcome === "refused" || decision.outcome === "deferred";

/**
 * @param others  this month's outcomes of every other rule: a condition may name one, and then asks that it pass
 */
export function decisionOutcome(context: RuleContext, others: readonly EvidenceOutcome[]): Outcome {
  const { lastDecision, lives, asOf, fleet } = context;
  if (lastDecision === null) return verdict(true, "no decision on record", NEEDED, "");
  const said = `${lastDecision.outcome} ${lastDecision.intervalH} h`;
  if (!isOpen(lastDecision)) return verdict(true, said, NEEDED, "");
  const conditions = parseRevisit(
    lastDecision.revisit ?? "",
    others.map(({ rule }) => rule),
  );
  if (conditions.length === 0) {
    return verdict(false, said, NEEDED, "nothing is recorded of what it asks; ask the authority");
  }
  const facts = {
    lives,
    decidedOn: lastDecision.on,
    asOf,
    band: fleet.evidence.presentIntervalBand,
    outcomes: others,
  };
  const states = conditions.map((condition) => conditionState(condition, facts));
  const join = (pick: (state: ConditionState) => string | null) =>
    states
      .map(pick)
      .filter((text) => text !== null)
      .join("; ");
  return verdict(
    states.every(({ met }) => met),
    `${said}; ${join(({ found }) => found)}`,
    join(({ needed }) => needed),
    join(({ settle }) => settle),
  );
}

const NEEDED = "no refusal or deferral open";
