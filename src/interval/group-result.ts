/** A group's numbers as the pages take them. */
import { isEvent, overLimitTable } from "../records/event-table.ts";
import type { ReadExports } from "../records/exports.ts";
import { sameGroup } from "../records/life.ts";
import type { GroupEvidence } from "./evidence.ts";
import { groupLife, lifeFits } from "./group-life.ts";
import { groupModes } from "./group-modes.ts";
import { groupWear } from "./group-wear.ts";
import { lifeChecks } from "./life-checks.ts";
import type { GroupResult, Recommendation } from "./month-result.ts";
import { wearChecks } from "./wear-checks.ts";

/** @param month  spacingH: hours between looks at the longest present interval, lateness included; null without a task */
export function groupResult(
  evidence: GroupEvidence,
  recommendations: readonly Recommendation[],
  slugOf: (...words: string[]) => string,
  month: {
    readonly confidence: number;
    readonly spacingH: number | null;
    readonly exports: ReadExports;
  },
): GroupResult {
  const { key, lives, part, readings } = evidence;
  const { confidence, spacingH, exports } = month;
  const { serial: serials } = exports.components;
  const wear = groupWear(readings, evidence.linesAt(confidence).wear, confidence);
  const table = overLimitTable(lives);
  const fits = lifeFits(table, confidence);
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
    life: groupLife(table, confidence, fits),
    lifeChecks:
      fits.fit.kind === "fitted"
        ? lifeChecks(evidence, fits.fit, table, fits.curve, spacingH, serials)
        : null,
    modes: groupModes(lives, evidence.greatestAgeH, confidence),
    wear,
    wearChecks: wearChecks(evidence, {
      exports,
      measurementSdMm: wear.fit?.measurementSdMm ?? null,
      intervalH: own.length === 0 ? null : Math.min(...own.map(({ presentIntervalH }) => presentIntervalH)),
      confidence,
    }),
    lives,
  };
}
