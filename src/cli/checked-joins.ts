/** What the rows made together: lives, what was left out of them, gaps joined to components. */
import type { Fleet } from "../fleet/fleet.ts";
import { fleetGaps } from "../interval/fleet-gaps.ts";
import { fleetLives } from "../interval/fleet-lives.ts";
import type { ReadExports } from "../records/exports.ts";
import { componentCount, type EnvironmentSource, type Exclusion, type RowRef } from "../records/life.ts";
import type { Day } from "../units.ts";

export interface LeftOutCount {
  readonly reason: string;
  readonly rows: number;
  readonly components: number;
  readonly first: RowRef;
}

export interface CheckedJoins {
  readonly asOf: Day;
  readonly pieces: number;
  readonly components: number;
  /** Pieces of life by the weakest of what placed their hours. */
  readonly environmentFrom: Readonly<Record<EnvironmentSource, number>>;
  readonly leftOut: readonly LeftOutCount[];
  /** null without a gap export. */
  readonly gaps: {
    readonly joined: number;
    readonly notJoined: readonly (readonly [string, number])[];
  } | null;
}

export function checkedJoins(fleet: Fleet, exports: ReadExports, asOf: Day): CheckedJoins {
  const { lives, exclusions } = fleetLives(fleet, exports, asOf);
  const environmentFrom = { flying: 0, base: 0, "later reading": 0 };
  for (const life of lives) environmentFrom[life.environmentFrom]++;
  return {
    asOf,
    pieces: lives.length,
    components: componentCount(lives),
    environmentFrom,
    leftOut: leftOutCounts(exclusions),
    gaps: gapCounts(fleet, exports, asOf),
  };
}

function leftOutCounts(exclusions: readonly Exclusion[]): LeftOutCount[] {
  const by = new Map<string, Exclusion[]>();
  for (const one of exclusions) {
    const same = by.get(one.reason) ?? [];
    by.set(one.reason, same);
    same.push(one);
  }
  return [...by].map(([reason, same]) => ({
    reason,
    rows: same.reduce((sum, { rows }) => sum + rows.length, 0),
    components: componentCount(same),
    first: same[0]!.rows[0]!,
  }));
}

function gapCounts(fleet: Fleet, exports: ReadExports, asOf: Day): CheckedJoins["gaps"] {
  if (exports.gaps === null) return null;
  const { joined, notJoined } = fleetGaps(fleet, exports, asOf);
  return { joined: joined.length, notJoined: [...notJoined] };
}
