/** A group's numbers as the pages take them. */
import { isEvent, overLimitTable } from "../records/event-table.ts";
import { componentCount, sameGroup } from "../records/life.ts";
import type { GroupEvidence } from "./evidence.ts";
import { groupLife, lifeFits } from "./group-life.ts";
import { groupModes } from "./group-modes.ts";
import { groupWear } from "./group-wear.ts";
import { lifeChecks } from "./life-checks.ts";
import type { GroupResult, Recommendation } from "./month-result.ts";
import { type UnplacedOdd, type WearChecks, wearChecks } from "./wear-checks.ts";

/** A group's numbers without its lives, and without the places of its odd readings. */
export type GroupAnswer = Omit<GroupResult, "lives" | "wearChecks"> & {
  readonly wearChecks: WearChecks<UnplacedOdd>;
};

/** @param month  spacingH: hours between looks at the longest present interval, lateness included; null without a task */
export function groupResult(
  evidence: GroupEvidence,
  recommendations: readonly Pick<Recommendation, "group" | "presentIntervalH">[],
  slugOf: (...words: string[]) => string,
  month: {
    readonly confidence: number;
    readonly spacingH: number | null;
    /** Serial of each component number. */
    readonly serials: readonly string[];
  },
): GroupAnswer {
  const { key, lives, modelled, part, readings } = evidence;
  const { confidence, spacingH, serials } = month;
  const wear = groupWear(readings, evidence.linesAt(confidence).wear, confidence);
  const table = overLimitTable(modelled);
  const fits = lifeFits(table, confidence);
  const own = recommendations.filter(({ group }) => sameGroup(group, key));
  return {
    key,
    slug: slugOf(key.part, key.environment, key.standard),
    components: componentCount(lives),
    modelledComponents: componentCount(modelled),
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
      serials,
      measurementSdMm: wear.fit?.measurementSdMm ?? null,
      intervalH: own.length === 0 ? null : Math.min(...own.map(({ presentIntervalH }) => presentIntervalH)),
      confidence,
    }),
  };
}
