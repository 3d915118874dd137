/** A group's numbers as the pages take them. */
import { isEvent, overLimitTable } from "../records/event-table.ts";
import { sameGroup } from "../records/life.ts";
import type { GroupEvidence } from "./evidence.ts";
import { groupLife } from "./group-life.ts";
import { groupWear } from "./group-wear.ts";
import type { GroupResult, Recommendation } from "./month-result.ts";

export function groupResult(
  evidence: GroupEvidence,
  recommendations: readonly Recommendation[],
  slugOf: (...words: string[]) => string,
  confidence: number,
): GroupResult {
  const { key, lives, part, readings } = evidence;
  const own = recommendations.filter(({ group }) => sameGroup(group, key));
  return {
    key,
    slug: slugOf(key.part, key.environment, key.standard),
    components: new Set(lives.map(({ component }) => component)).size,
    aircraft: [...new Set(lives.map(({ aircraft }) => aircraft))].filter((name) => name !== "").sort(),
    looks: lives.reduce((sum, { lookHours }) => sum + lookHours.length, 0),
    flightHours: lives.reduce((sum, life) => sum + life.lastHours - life.observedFromHours, 0),
    overLimitEvents: lives.filter(isEvent).length,
    earlyRemovals: lives.filter(({ end }) => end === "early removal").length,
    replaceAtMm: part.replaceAtMm,
    unsafeAtMm: part.unsafeAtMm,
    presentIntervalsH: [...new Set(own.map(({ presentIntervalH }) => presentIntervalH))].sort(
      (a, b) => a - b,
    ),
    life: groupLife(overLimitTable(lives), confidence),
    wear: groupWear(readings, evidence.linesAt(confidence).wear, confidence),
    lives,
  };
}
