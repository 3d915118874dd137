/** Where the joint model's search begins: spreads, and what an hour weighs in each cell. */
import { jointCriterion } from "./joint-criterion.ts";
import type { JointData } from "./joint-data.ts";
import type { JointSpread } from "./joint-products.ts";
import type { Cell, JointTable } from "./joint-table.ts";

/** Spreads in units of the scatter, those of slopes in units of `slopeUnit`. */
export const START = [0.5, 0.1, 0.5, 0.3] as const;

/** An hour weighs at least this share of a mean one: a rate that shows no rise still has a spread. */
const LEAST_RELATIVE = 0.05;

/** Rates over their mean by hours. */
export function relativeRates(cells: readonly Cell[], rateOf: (cell: number) => number): Float64Array {
  const hours = cells.reduce((sum, cell) => sum + cell.hours, 0);
  const mean = cells.reduce((sum, cell, k) => sum + cell.hours * Math.max(0, rateOf(k)), 0) / hours;
  return Float64Array.from(cells, (_, k) => (mean > 0 ? Math.max(LEAST_RELATIVE, rateOf(k) / mean) : 1));
}

/** Components that differ by as much as their slopes do, and aircraft by a third of it. */
export function plausibleSpread(data: JointData): JointSpread {
  const start = jointCriterion(data).fitAt([0.5, 0, 0.5, 0.2]);
  const unit = start === null ? 1 : Math.max(1, slopeUnit(data, start.residualVariance));
  return [START[0], START[1] * unit, START[2] * unit, START[3] * unit];
}

/** A rough spread of the components' slopes in units of the scatter: the search's unit. */
export function slopeUnit(data: JointData, residualVariance: number): number {
  const slopes: number[] = [];
  for (let i = 0; i < data.components; i++) {
    const [n, h, y] = [data.count[i]!, data.h[i]!, data.y[i]!];
    const spread = n * data.hh[i]! - h * h;
    if (n > 1 && spread > 1e-9) slopes.push((n * data.hy[i]! - h * y) / spread);
  }
  const mean = slopes.reduce((sum, slope) => sum + slope, 0) / Math.max(1, slopes.length);
  const variance = slopes.reduce((sum, slope) => sum + (slope - mean) ** 2, 0) / Math.max(1, slopes.length);
  return Math.sqrt(variance / residualVariance);
}

/** Each cell's rate over the mean, from the slopes of the components that flew mostly so. */
export function crudeRelativeRates(table: JointTable, cells: readonly Cell[]): Float64Array {
  const sums = cells.map(() => ({ wear: 0, hours: 0 }));
  const first = new Map<number, number>();
  const last = new Map<number, number>();
  for (let row = 0; row < table.rows; row++) {
    const component = table.component[row]!;
    if (!first.has(component)) first.set(component, row);
    last.set(component, row);
  }
  for (const [component, to] of last) {
    const from = first.get(component)!;
    const flown = cells.map(({ environment, standard }) =>
      standard === table.standard[to]
        ? table.hoursIn[environment]![to]! - table.hoursIn[environment]![from]!
        : 0,
    );
    const total = flown.reduce((sum, hours) => sum + hours, 0);
    const most = flown.findIndex((hours) => hours > 0.8 * total);
    if (most < 0) continue;
    sums[most]!.wear += table.wearMm[to]! - table.wearMm[from]!;
    sums[most]!.hours += total;
  }
  const all = sums.reduce((one, { wear, hours }) => ({ wear: one.wear + wear, hours: one.hours + hours }), {
    wear: 0,
    hours: 0,
  });
  return relativeRates(cells, (k) => {
    const { wear, hours } = sums[k]!;
    return hours > 0 ? wear / hours : all.wear / all.hours;
  });
}
