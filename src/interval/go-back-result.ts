/** The go-back number as the officer's page tells it: since the last change, and after the one recommended. */
import type { Fleet } from "../fleet/fleet.ts";
import type { Life } from "../records/life.ts";
import type { GoBackProposal, SinceChange } from "./choices-result.ts";
import type { Decided } from "./decide.ts";
import { goBackStage } from "./go-back.ts";
import { type GoBackWatch, predictedSince } from "./go-back-watch.ts";
import type { RiskAtInterval } from "./month-result.ts";
import { worse } from "./risks.ts";

/** A watched change with what the lives before it predict. */
export function sinceChange(watch: GoBackWatch, lives: readonly Life[]): SinceChange {
  const predicted = predictedSince(watch, lives);
  const { since, formerH, promisedShare, promisedBy, looks, finds, stage } = watch;
  return {
    ...{ since, formerH, promisedShare, promisedBy, looks, finds, stage },
    reached: watch.reachedAt !== null,
    predicted: predicted.kind === "predicted" ? { finds: predicted.expected, p: predicted.p } : null,
    whyNotPredicted: predicted.kind === "predicted" ? null : predicted.why,
  };
}

/** After an extension: what it promises is its own bound, never more than what is acceptable. */
export function goBackProposal(
  decided: Decided,
  risks: readonly RiskAtInterval[],
  { acceptable, evidence }: Fleet,
): GoBackProposal | null {
  if (decided.answer !== "extend") return null;
  const at = risks.find(({ intervalH }) => intervalH === decided.recommendedH)?.overLimitPerInspection;
  const bound = at === undefined ? null : (worse(at.life, at.wear)?.upper ?? null);
  const promisedShare = Math.min(acceptable.overLimitPerInspection, bound ?? 1);
  const stage = goBackStage(1, evidence.looksAtPresentInterval, promisedShare, acceptable.confidence);
  return { promisedShare, stage };
}
