/** The ground of a wear chart: what was read, under what was fitted. */
import { type onScale, type PlotLayer, plot } from "./layers.ts";
import { INK, PANEL } from "./theme.ts";
import type { WearCell } from "./wear-cells.ts";
import type { WearAxes, WearReading } from "./wear-chart.ts";

type Scale = ReturnType<typeof onScale>;

/** A point of a path; nulls lift the pen. One path for all components keeps a page of many readings small. */
interface PenPoint {
  readonly hours: number | null;
  readonly wearMm: number | null;
}
interface RugPoint {
  readonly hours: number | null;
  readonly px: number | null;
}

const LIFTED: PenPoint = { hours: null, wearMm: null };

function componentPath(readings: readonly WearReading[]): PenPoint[] {
  return readings.flatMap((reading, index): PenPoint[] => {
    const point = { hours: reading.hours, wearMm: reading.wearMm };
    return index > 0 && readings[index - 1]!.line !== reading.line ? [LIFTED, point] : [point];
  });
}

const rugPath = (readings: readonly WearReading[]): RugPoint[] =>
  [...new Set(readings.map((reading) => reading.hours))]
    .sort((a, b) => a - b)
    .flatMap((at): RugPoint[] => [
      { hours: at, px: PANEL.height },
      { hours: at, px: PANEL.height - 5 },
      { hours: null, px: null },
    ]);

/** Each component a faint line, and every hour with a reading a mark on the axis. */
export function lineLayers(readings: readonly WearReading[], x: Scale, y: Scale): PlotLayer[] {
  const pen = { type: "line", clip: true, invalid: "break-paths-show-domains", stroke: INK } as const;
  const inOrder = { order: { value: null } } as const;
  return [
    plot(
      componentPath(readings),
      { ...pen, strokeWidth: 0.6, opacity: 0.28 },
      { x: x("hours"), y: y("wearMm"), ...inOrder },
    ),
    plot(
      rugPath(readings),
      { ...pen, strokeWidth: 0.5, opacity: 0.45 },
      { x: x("hours"), y: { field: "px", type: "quantitative", scale: null, axis: null }, ...inOrder },
    ),
  ];
}

/** Cells counted from more readings than can be drawn one by one. */
export const cellLayer = (cells: readonly WearCell[], x: Scale, y: Scale): PlotLayer =>
  plot(
    cells,
    { type: "rect", fill: INK },
    {
      x: x("fromHours"),
      x2: { field: "toHours" },
      y: y("fromMm"),
      y2: { field: "toMm" },
      opacity: { field: "shade", type: "quantitative", scale: null, legend: null },
    },
  );

/** Readings beyond the axis, and where. */
export const strays = (readings: readonly WearReading[], axes: WearAxes): readonly WearReading[] =>
  readings.filter((reading) => reading.wearMm > axes.maxMm || reading.wearMm < axes.minMm);

/** Strays as triangles at the edge that they lie beyond. */
export function strayLayers(readings: readonly WearReading[], axes: WearAxes, x: Scale): PlotLayer[] {
  const beyond = strays(readings, axes);
  const edge = (shape: string, rows: readonly WearReading[], px: number) =>
    plot(
      rows,
      { type: "point", shape, filled: true, size: 36, opacity: 1, fill: INK },
      { x: x("hours"), y: { value: px } },
    );
  const above = beyond.filter((reading) => reading.wearMm > axes.maxMm);
  const below = beyond.filter((reading) => reading.wearMm < axes.minMm);
  return [
    ...(above.length === 0 ? [] : [edge("triangle-up", above, 4)]),
    ...(below.length === 0 ? [] : [edge("triangle-down", below, PANEL.height - 4)]),
  ];
}
