/** Small helpers to write a rule's outcome. */
import { addMonths } from "../units.ts";
import type { EvidenceOutcome } from "./month-result.ts";
import type { RuleContext } from "./rule-context.ts";

export type Outcome = Omit<EvidenceOutcome, "rule" | "asks">;

/** One evidence rule: its name, its question, and how it is answered. */
export interface EvidenceRule {
  readonly rule: string;
  readonly asks: string;
  readonly evaluate: (context: RuleContext) => Outcome;
}

/** Passed or failed; what would settle it is said only where it failed. */
export const verdict = (passed: boolean, found: string, needed: string, settle: string): Outcome => ({
  found,
  needed,
  outcome: passed ? "passed" : "failed",
  settle: passed ? null : settle,
});

/** An outcome of a rule whose optional export is not there. */
export const notApplicable = (found: string, needed: string): Outcome => ({
  found,
  needed,
  outcome: "not applicable",
  settle: null,
});

/** How long until `more` further ones come at the pace of the last twelve months. */
export function paceText(more: number, inLastYear: number, what: string): string {
  if (inLastYear === 0) return `${more} more ${what}; none came in the last 12 months`;
  const months = Math.ceil((12 * more) / inLastYear);
  return `${more} more ${what}, about ${months} ${months === 1 ? "month" : "months"} at the present pace`;
}

/** Lives first seen in the last twelve months. */
export function newLivesLastYear({ lives, asOf }: RuleContext): number {
  const yearAgo = addMonths(asOf, -12);
  return lives.filter((life) => life.firstDay > yearAgo).length;
}

/** A share as a percentage, as rules write it. */
export const percent = (share: number): string => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
