/** Seal gaps by quarter, as found and as left, against the tolerance of the standard fitted. */
import { quantileSorted } from "simple-statistics";
import { GAP_STATE, type ReadExports, wordAt } from "../records/exports.ts";
import { indexFlown } from "../records/flown.ts";
import { standardAt } from "../records/standard.ts";
import { UNASSIGNED } from "../records/words.ts";
import { type Day, isoMonth, monthNumber } from "../units.ts";

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
  const cells = new QuarterCells();
  for (let row = 0; row < gaps.rows; row++) {
    const day = gaps.day[row]!;
    const state = gaps.state[row]!;
    if (day > asOf || Number.isNaN(gaps.gapMm[row]!) || state === GAP_STATE.unknown) continue;
    const aircraft = wordAt(gaps.aircraft, row);
    const environment = (aircraft === null ? null : flown.mainEnvironment(aircraft, day, day)) ?? UNASSIGNED;
    cells.of(environment, standardAt(gaps.standard, row), day, state).mm.push(gaps.gapMm[row]!);
  }
  return cells.inOrder().map(({ key, mm }) => ({
    ...key,
    ...summary(
      mm,
      tolerances.find(({ standard }) => standard === key.standard),
    ),
  }));
}

interface QuarterCell {
  readonly key: Pick<GapQuarter, "standard" | "environment" | "quarter" | "state">;
  readonly mm: number[];
}

/** Readings by environment, standard, quarter and state. */
class QuarterCells {
  readonly #groups: { environment: string; standard: string; cells: Map<number, QuarterCell> }[] = [];

  of(environment: string, standard: string, day: Day, state: number): QuarterCell {
    let group = this.#groups.find((one) => one.environment === environment && one.standard === standard);
    if (group === undefined) {
      group = { environment, standard, cells: new Map() };
      this.#groups.push(group);
    }
    const at = 2 * Math.floor(monthNumber(day) / 3) + (state === GAP_STATE.found ? 0 : 1);
    let cell = group.cells.get(at);
    if (cell === undefined) {
      const words = state === GAP_STATE.found ? ("found" as const) : ("left" as const);
      cell = { key: { standard, environment, quarter: quarterOf(day), state: words }, mm: [] };
      group.cells.set(at, cell);
    }
    return cell;
  }

  /** By environment, standard, quarter and state, as text. */
  inOrder(): QuarterCell[] {
    const idOf = ({ key }: QuarterCell) =>
      JSON.stringify([key.environment, key.standard, key.quarter, key.state]);
    return this.#groups
      .flatMap(({ cells }) => [...cells.values()].map((cell) => ({ id: idOf(cell), cell })))
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .map(({ cell }) => cell);
  }
}

function summary(mm: number[], tolerance: GapTolerance | undefined) {
  const sorted = [...Float64Array.from(mm).sort()];
  const quantile = (share: number) => quantileSorted(sorted, share);
  const outside = tolerance
    ? sorted.filter((gap) => gap < tolerance.lowMm || gap > tolerance.highMm).length
    : null;
  return {
    readings: sorted.length,
    medianMm: quantile(0.5),
    lowMm: quantile(0.1),
    highMm: quantile(0.9),
    outOfTolerance: outside === null ? null : outside / sorted.length,
  };
}

function quarterOf(day: Day): string {
  const [year, month] = isoMonth(day).split("-") as [string, string];
  return `${year}-Q${Math.ceil(Number(month) / 3)}`;
}
