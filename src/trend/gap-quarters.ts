/** Seal gaps by quarter, as found and as left, against the tolerance of the standard fitted. */
import { quantileSorted } from "simple-statistics";
import { GAP_STATE, type ReadExports, wordAt } from "../records/exports.ts";
import { indexFlown } from "../records/flown.ts";
import { standardAt } from "../records/standard.ts";
import { UNASSIGNED } from "../records/words.ts";
import { type Day, isoMonth } from "../units.ts";

export interface GapTolerance {
  readonly standard: string;
  readonly lowMm: number;
  readonly highMm: number;
}

export interface GapQuarter {
  readonly standard: string;
  readonly environment: string;
  /** YYYY-Qn */
  readonly quarter: string;
  readonly state: "found" | "left";
  readonly readings: number;
  readonly medianMm: number;
  /** Tenth and ninetieth percentile, mm. */
  readonly lowMm: number;
  readonly highMm: number;
  /** Share of the readings outside the standard's tolerance; null where the fleet file gives none. */
  readonly outOfTolerance: number | null;
}

/**
 * Environment of a gap reading: where its aircraft flew most hours that month by the flying export; unassigned where
 * that is not recorded. Quantiles are R-7 (simple-statistics `quantileSorted`).
 */
export function gapQuarters(
  exports: ReadExports,
  tolerances: readonly GapTolerance[],
  asOf: Day,
): GapQuarter[] {
  const { gaps } = exports;
  if (gaps === null) return [];
  const flown = indexFlown(exports);
  const cells = new Map<
    string,
    { key: Omit<GapQuarter, "readings" | "medianMm" | "lowMm" | "highMm" | "outOfTolerance">; mm: number[] }
  >();
  for (let row = 0; row < gaps.rows; row++) {
    const day = gaps.day[row]!;
    if (day > asOf || Number.isNaN(gaps.gapMm[row]!) || gaps.state[row] === GAP_STATE.unknown) continue;
    const aircraft = wordAt(gaps.aircraft, row);
    const key = {
      standard: standardAt(gaps.standard, row),
      environment: (aircraft === null ? null : flown.mainEnvironment(aircraft, day, day)) ?? UNASSIGNED,
      quarter: quarterOf(day),
      state: gaps.state[row] === GAP_STATE.found ? ("found" as const) : ("left" as const),
    };
    const id = JSON.stringify([key.environment, key.standard, key.quarter, key.state]);
    const cell = cells.get(id) ?? { key, mm: [] };
    cell.mm.push(gaps.gapMm[row]!);
    cells.set(id, cell);
  }
  return [...cells.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { key, mm }]) => ({
      ...key,
      ...summary(
        mm,
        tolerances.find(({ standard }) => standard === key.standard),
      ),
    }));
}

function summary(mm: number[], tolerance: GapTolerance | undefined) {
  const sorted = mm.sort((a, b) => a - b);
  const outside = tolerance
    ? sorted.filter((gap) => gap < tolerance.lowMm || gap > tolerance.highMm).length
    : null;
  return {
    readings: sorted.length,
    medianMm: quantileSorted(sorted, 0.5),
    lowMm: quantileSorted(sorted, 0.1),
    highMm: quantileSorted(sorted, 0.9),
    outOfTolerance: outside === null ? null : outside / sorted.length,
  };
}

function quarterOf(day: Day): string {
  const [year, month] = isoMonth(day).split("-") as [string, string];
  return `${year}-Q${Math.ceil(Number(month) / 3)}`;
}
