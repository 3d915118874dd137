/** What a group is called on the pages, and how its risks and answers are put into words. */
import type { Bounded, Recommendation, RiskAtInterval } from "../interval/month-result.ts";
import { worse } from "../interval/risks.ts";
import type { GroupKey } from "../records/life.ts";
import { hours } from "./number-format.ts";

/** "grip bearing, sandy, shielded" */
export const groupName = (key: GroupKey): string => `${key.part}, ${key.environment}, ${key.standard}`;

/** Whether two keys name one group. */
export const sameGroup = (a: GroupKey, b: GroupKey): boolean =>
  a.part === b.part && a.environment === b.environment && a.standard === b.standard;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const sentenceCase = capital;

/** "Keep 300 h", "Extend 300 h to 350 h", "Shorten 300 h to 200 h", "Shorten: refer to the engineering authority now". */
export function answerInWords(recommendation: Recommendation): string {
  const present = hours(recommendation.presentIntervalH);
  const recommended = recommendation.recommendedIntervalH;
  switch (recommendation.recommendation) {
    case "extend":
    case "shorten":
      if (recommended === null)
        return `${capital(recommendation.recommendation)}: refer to the engineering authority now`;
      return `${capital(recommendation.recommendation)} ${present} to ${hours(recommended)}`;
    case "keep":
      return `Keep ${present}`;
    case "not enough evidence":
      return `Not enough evidence; ${present} stays`;
  }
}

/** The risks at one interval of the grid, or null where that interval was not computed. */
export const risksAt = (recommendation: Recommendation, intervalH: number | null): RiskAtInterval | null =>
  recommendation.risks.find((risk) => risk.intervalH === intervalH) ?? null;

/** The worse of the two lines of evidence about over-limit finds, as the decision takes it: estimate and bound each. */
export function worseOverLimit({
  overLimitPerInspection: { life, wear },
}: RiskAtInterval): { readonly from: string; readonly share: Bounded } | null {
  const share = worse(life, wear);
  if (share === null) return null;
  if (life === null || wear === null) return { from: life === null ? "from wear" : "from lives", share };
  const estimates = Math.sign(life.estimate - wear.estimate);
  const bounds = life.upper === wear.upper ? 0 : Math.sign(pessimistic(life) - pessimistic(wear));
  if (estimates * bounds < 0) return { from: "from lives and wear, the worse of each", share };
  return { from: estimates + bounds < 0 ? "from wear" : "from lives", share };
}

const pessimistic = (bounded: Bounded): number => bounded.upper ?? Number.POSITIVE_INFINITY;

/** True where no risk has a bound: what is estimated there is not shown, since it would look like an answer. */
export const isUnbounded = ({ recommendation }: Recommendation): boolean =>
  recommendation === "not enough evidence";

/** Rules that apply, those that passed, and the names of those that failed. */
export function rulesOf(recommendation: Recommendation): {
  asked: number;
  passed: number;
  failed: readonly string[];
} {
  const asked = recommendation.evidence.filter((rule) => rule.outcome !== "not applicable");
  return {
    asked: asked.length,
    passed: asked.filter((rule) => rule.outcome === "passed").length,
    failed: asked.filter((rule) => rule.outcome === "failed").map((rule) => rule.rule),
  };
}
