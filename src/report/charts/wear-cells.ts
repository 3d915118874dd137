/** Readings counted into cells of a panel: the ground of a group with more readings than can be drawn one by one. */
import type { WearAxes, WearReading } from "./wear-chart.ts";

export interface WearCell {
  readonly fromHours: number;
  readonly toHours: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly readings: number;
  /** Opacity of the cell, 0 to 1, by the square root of its count: a lone reading stays visible beside a crowd. */
  readonly shade: number;
}

/** Most readings that are drawn one by one; above, they are counted in cells. */
export const MOST_SINGLE_READINGS = 1500;

const COLUMNS = 56;
const ROWS = 36;
const FAINTEST = 0.07;
const DARKEST = 0.6;

/** Cells with at least one reading, in order of hours, then wear. Readings beyond the axes go to the last cell. */
export function wearCells(readings: readonly WearReading[], axes: WearAxes): WearCell[] {
  const counts = new Uint32Array(COLUMNS * ROWS);
  const cellOf = (share: number, cells: number) =>
    Math.max(0, Math.min(cells - 1, Math.floor(share * cells)));
  const heightMm = axes.maxMm - axes.minMm;
  for (const { hours, wearMm } of readings) {
    const at = cellOf(hours / axes.maxHours, COLUMNS) * ROWS + cellOf((wearMm - axes.minMm) / heightMm, ROWS);
    counts[at] = counts[at]! + 1;
  }
  const most = counts.reduce((a, b) => Math.max(a, b), 1);
  return [...counts].flatMap((count, at) => {
    if (count === 0) return [];
    const column = Math.floor(at / ROWS);
    const row = at % ROWS;
    return [
      {
        fromHours: (column * axes.maxHours) / COLUMNS,
        toHours: ((column + 1) * axes.maxHours) / COLUMNS,
        fromMm: axes.minMm + (row * heightMm) / ROWS,
        toMm: axes.minMm + ((row + 1) * heightMm) / ROWS,
        readings: count,
        shade: FAINTEST + (DARKEST - FAINTEST) * Math.sqrt(count / most),
      },
    ];
  });
}
