/** The observations under a life chart: one row for each kind, told apart by shape. */
import type { GroupLife } from "../../interval/month-result.ts";
import { type onScale, type PlotLayer, plot } from "./layers.ts";
import type { HoursRange } from "./life-chart.ts";
import { INK, PANEL, QUIET, SMALL_PX } from "./theme.ts";

export type LifeKindName = GroupLife["marks"][number]["kind"];
/** In the order of the rows, top to bottom. */
export const LIFE_KINDS: readonly LifeKindName[] = ["exact", "interval", "left", "running"];
/** Height of a row in px. */
export const ROW_PX = 13;

/** What a row is called at its left. */
const ROW_NAMES: Readonly<Record<LifeKindName, string>> = {
  exact: "exact",
  interval: "between",
  left: "before",
  running: "running",
};

/** Marks as they lie on the axis: `from` and `to` within its range. */
interface MarkRow {
  readonly from: number;
  readonly to: number;
}

/** Layers of every kind asked for; a row without marks stays, so that panels have one geometry. */
export function markLayers(
  marks: GroupLife["marks"],
  kinds: readonly LifeKindName[],
  range: HoursRange,
  x: ReturnType<typeof onScale>,
): PlotLayer[] {
  const within = (at: number) => Math.min(range.highest, Math.max(range.lowest, at));
  return kinds.flatMap((kind, index) => {
    const y = { value: PANEL.height + 9 + index * ROW_PX };
    const rows = marks
      .filter((mark) => mark.kind === kind)
      .map((mark): MarkRow => ({ from: within(mark.lower), to: within(mark.upper ?? mark.lower) }));
    const name = { name: ROW_NAMES[kind] };
    return [
      plot(
        [name],
        { type: "text", align: "right", fill: QUIET, fontSize: SMALL_PX - 0.5 },
        {
          x: { value: -5 },
          y,
          text: { field: "name" },
        },
      ),
      ...shapes(kind, rows, x, y),
    ];
  });
}

function shapes(
  kind: LifeKindName,
  rows: readonly MarkRow[],
  x: ReturnType<typeof onScale>,
  y: { readonly value: number },
): PlotLayer[] {
  const point = { type: "point", size: 26, strokeWidth: 0.8, opacity: 0.75 } as const;
  const bar = plot(
    rows,
    { type: "rule", stroke: INK, strokeWidth: 3, opacity: 0.13 },
    {
      x: x("from"),
      x2: { field: "to" },
      y,
    },
  );
  const end = (mark: object) => plot(rows, { ...point, ...mark }, { x: x("to"), y });
  switch (kind) {
    case "exact":
      return [end({ shape: "circle", filled: true, fill: INK })];
    case "interval":
      return [bar, end({ shape: "stroke", angle: 90, size: 40, stroke: INK })];
    case "left":
      return [bar, end({ shape: "triangle-left", filled: true, fill: INK })];
    case "running":
      return [end({ shape: "triangle-right", stroke: INK })];
  }
}
