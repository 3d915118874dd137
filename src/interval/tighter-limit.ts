/** The mildest tighter replace-at limit that would make a longer interval hold. */
import type { TighterLimit } from "./choices-result.ts";
import type { RiskAtInterval } from "./month-result.ts";
import { tighterRisk } from "./rate-risks.ts";
import { tighterShareOf } from "./tighter-share.ts";
import type { WearLine } from "./wear-line.ts";
import type { WouldChangeQuestion } from "./would-change-question.ts";

/** The replace-at limit times these, the mildest first. */
const TIGHTER = [0.9, 0.8, 0.7, 0.6];

/** The mildest tighter limit at which the next interval, not demonstrated as things are, would hold. */
export function tighterLimit(question: WouldChangeQuestion): TighterLimit | null {
  const { risks, longestH, presentH, fleet, lines, evidence, task } = question;
  const { wear } = lines;
  // Only a programme interval can be made longer.
  if (task.basis !== "programme") return null;
  const next = risks.find(({ intervalH }) => intervalH > (longestH ?? 0));
  const most = presentH * (1 + fleet.intervalSteps.largestChange) * (1 + 1e-9);
  if (wear.kind === "none" || next === undefined || next.intervalH < presentH || next.intervalH > most)
    return null;
  const { intervalH } = next;
  const { replaceAtMm } = evidence.part;
  let low = 0;
  let high = TIGHTER.length;
  // The tighter the limit, the less passes it unseen and the more margin is left: what holds is the end of the list.
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holdsAt(question, wear.line, next, TIGHTER[middle]! * replaceAtMm)) high = middle;
    else low = middle + 1;
  }
  const factor = TIGHTER[low];
  if (factor === undefined) return { kind: "none", intervalH, triedToMm: TIGHTER.at(-1)! * replaceAtMm };
  const limitMm = factor * replaceAtMm;
  const parameters = wear.line.fit.fits[0]!.parameters;
  const replacedAt = (tighterMm: number) => {
    const parts = [{ share: 1, parameters }];
    const share = tighterShareOf(parts, { replaceAtMm, tighterMm }, intervalH, 0, (hours) => hours);
    return (1000 * share.replaced) / intervalH;
  };
  return {
    kind: "found",
    intervalH,
    limitMm,
    replacementsPer1000H: replacedAt(limitMm),
    replacementsPer1000HAtLimit: replacedAt(replaceAtMm),
  };
}

function holdsAt(
  { fleet, task, evidence }: WouldChangeQuestion,
  line: WearLine,
  { intervalH, overLimitPerInspection }: RiskAtInterval,
  tighterMm: number,
): boolean {
  const { acceptable } = fleet;
  const { part, greatestAgeH, unsafeSetting } = evidence;
  const spacingH = intervalH * (1 + task.tolerance);
  const risk = tighterRisk({ replaceAtMm: part.replaceAtMm, tighterMm }, spacingH, greatestAgeH);
  const level = acceptable.overLimitPerInspection / lifeOverWear(overLimitPerInspection);
  // The estimate is cheap and often settles it.
  if (line.worst(risk, "estimate").estimate > level) return false;
  if (part.unsafeAtMm !== null) {
    if (unsafeSetting === null) return false;
    const upTo = acceptable.unsafeBeforeSeen;
    const { upper } = line.unsafe({ ...unsafeSetting, replaceAtMm: tighterMm }, spacingH, { upTo });
    if (upper === null || upper > acceptable.unsafeBeforeSeen) return false;
  }
  const { upper } = line.worst(risk, { upTo: level });
  return upper !== null && upper <= level;
}

/** How much worse the lives' bound is than the wear readings' at the original limit, at least 1. */
function lifeOverWear({ life, wear }: RiskAtInterval["overLimitPerInspection"]): number {
  if (life === null || wear === null || wear.upper === null) return 1;
  if (life.upper === null) return Number.POSITIVE_INFINITY;
  return Math.max(1, life.upper / wear.upper);
}
