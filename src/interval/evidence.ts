/** Everything a group's recommendation stands on, computed once and used by each task that covers the group. */
import type { Part } from "../fleet/fleet.ts";
import { type GroupReadings, groupReadings, overLimitTable } from "../records/event-table.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { type LifeLineResult, lifeLine } from "./life-line.ts";
import { greatestAge } from "./risks.ts";
import { type WearLineResult, wearLine } from "./wear-line.ts";

/** Components and aircraft that must have been at risk for hours to count as observed. */
export const AT_RISK = { components: 10, aircraft: 3 };

/** Both lines at one confidence. */
export interface Lines {
  readonly life: LifeLineResult;
  /** The life line with early removals censored, shown beside it. */
  readonly lifeCensored: LifeLineResult;
  readonly wear: WearLineResult;
}

export interface GroupEvidence {
  readonly key: GroupKey;
  readonly part: Part;
  readonly lives: readonly Life[];
  readonly readings: GroupReadings;
  /** Greatest age with 10 components of 3 aircraft at risk, 0 where there never were so many. */
  readonly greatestAgeH: number;
  /** Removals for other reasons, per flight hour watched. */
  readonly otherRemovalsPerHour: number;
  /** Lines for one-sided bounds at a confidence; computed when first asked for. */
  readonly linesAt: (confidence: number) => Lines;
}

export function groupEvidence(key: GroupKey, lives: readonly Life[], part: Part): GroupEvidence {
  const readings = groupReadings(lives);
  const known = new Map<number, Lines>();
  const hours = lives.reduce((sum, life) => sum + life.lastHours - life.observedFromHours, 0);
  const others = lives.filter(({ end }) => end === "removed").length;
  return {
    key,
    part,
    lives,
    readings,
    greatestAgeH: greatestAge(lives, AT_RISK.components, AT_RISK.aircraft),
    otherRemovalsPerHour: hours > 0 ? others / hours : 0,
    linesAt: (confidence) => {
      const made = known.get(confidence) ?? linesOf(lives, readings, part, confidence);
      known.set(confidence, made);
      return made;
    },
  };
}

function linesOf(lives: readonly Life[], readings: GroupReadings, part: Part, confidence: number): Lines {
  return {
    life: lifeLine(overLimitTable(lives), confidence),
    lifeCensored: lifeLine(overLimitTable(lives, "censored"), confidence),
    wear: wearLine(readings, part.replaceAtMm, confidence),
  };
}

/** Lives of each group, groups in order of part, environment, standard. */
export function livesByGroup(lives: readonly Life[]): [GroupKey, Life[]][] {
  const groups = new Map<string, [GroupKey, Life[]]>();
  for (const life of lives) {
    const { part, environment, standard } = life.group;
    const id = JSON.stringify([part, environment, standard]);
    const group = groups.get(id);
    if (group) group[1].push(life);
    else groups.set(id, [life.group, [life]]);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => group);
}
