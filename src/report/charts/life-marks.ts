/**
 * The observations under a life chart: one row for each kind, told apart by shape. Marks that fall on the same pixel are
 * drawn once, and the hours that interval-censored lives cover are shaded by how many cover them, so a group of
 * thousands is drawn as small as one of ten.
 */
import type { GroupLife } from "../../interval/life-findings.ts";
import { type onScale, type PlotLayer, plot } from "./layers.ts";
import type { HoursRange } from "./life-range.ts";
import { INK, PANEL, QUIET, SMALL_PX } from "./theme.ts";

export type LifeKindName = GroupLife["marks"][number]["kind"];
/** In the order of the rows, top to bottom. */
export const LIFE_KINDS: readonly LifeKindName[] = ["exact", "interval", "left", "running"];
/** Height of a row in px. */
export const ROW_PX = 14;

/** What a row is called at its left. */
const ROW_NAMES: Readonly<Record<LifeKindName, string>> = {
  exact: "exact",
  interval: "between",
  left: "before",
  running: "running",
};

export interface MarkEnd {
  readonly hours: number;
}
export interface MarkCover {
  readonly from: number;
  readonly to: number;
  /** Opacity, 0 to 1. */
  readonly shade: number;
}

const CELL_PX = 2;
const CELLS = PANEL.width / CELL_PX;
const DARKEST = 0.55;

/** Cells of the log axis: hours to cell number and back. */
function cells({ lowest, highest }: HoursRange) {
  const width = Math.log(highest / lowest) / CELLS;
  return {
    of: (hours: number) =>
      Math.max(0, Math.min(CELLS - 1, Math.floor(Math.log(Math.max(hours, lowest) / lowest) / width))),
    edge: (cell: number) => lowest * Math.exp(cell * width),
    middle: (cell: number) => lowest * Math.exp((cell + 0.5) * width),
  };
}

/** Where marks stand, one for each pixel pair that has any. */
export function markEnds(hours: readonly number[], range: HoursRange): MarkEnd[] {
  const axis = cells(range);
  const taken = new Set(hours.map(axis.of));
  return [...taken].sort((a, b) => a - b).map((cell) => ({ hours: axis.middle(cell) }));
}

/** The hours that lives cover between their last good look and the find, darker where more do. */
export function markCovers(marks: GroupLife["marks"], range: HoursRange): MarkCover[] {
  const axis = cells(range);
  const counts = new Uint32Array(CELLS);
  for (const mark of marks) {
    const last = axis.of(mark.upper ?? mark.lower);
    for (let cell = axis.of(mark.lower); cell <= last; cell += 1) counts[cell] = counts[cell]! + 1;
  }
  const most = counts.reduce((a, b) => Math.max(a, b), 1);
  const covers: MarkCover[] = [];
  for (let cell = 0; cell < CELLS; ) {
    let next = cell + 1;
    while (next < CELLS && counts[next] === counts[cell]) next += 1;
    const shade = DARKEST * Math.sqrt(counts[cell]! / most);
    if (shade > 0) covers.push({ from: axis.edge(cell), to: axis.edge(next), shade });
    cell = next;
  }
  return covers;
}

type Scale = ReturnType<typeof onScale>;

/** Layers of every kind asked for; a row without marks stays, so that panels have one geometry. */
export function markLayers(
  marks: GroupLife["marks"],
  kinds: readonly LifeKindName[],
  range: HoursRange,
  x: Scale,
): PlotLayer[] {
  return kinds.flatMap((kind, index) => {
    const y = { value: PANEL.height + 9 + index * ROW_PX };
    const name = { name: ROW_NAMES[kind] };
    return [
      plot(
        [name],
        { type: "text", align: "right", fill: QUIET, fontSize: SMALL_PX },
        { x: { value: -5 }, y, text: { field: "name" } },
      ),
      ...shapes(
        kind,
        marks.filter((mark) => mark.kind === kind),
        range,
        { x, y },
      ),
    ];
  });
}

function shapes(
  kind: LifeKindName,
  marks: GroupLife["marks"],
  range: HoursRange,
  { x, y }: { readonly x: Scale; readonly y: { readonly value: number } },
): PlotLayer[] {
  const ends = markEnds(
    marks.map((mark) => mark.upper ?? mark.lower),
    range,
  );
  const end = (mark: object) =>
    plot(ends, { type: "point", size: 26, strokeWidth: 0.8, opacity: 0.8, ...mark }, { x: x("hours"), y });
  const cover = plot(
    markCovers(marks, range),
    { type: "rule", stroke: INK, strokeWidth: 3.5 },
    {
      x: x("from"),
      x2: { field: "to" },
      y,
      opacity: { field: "shade", type: "quantitative", scale: null, legend: null },
    },
  );
  switch (kind) {
    case "exact":
      return [end({ shape: "circle", filled: true, fill: INK })];
    case "interval":
      return [cover, end({ shape: "stroke", angle: 90, size: 40, stroke: INK })];
    case "left":
      return [cover, end({ shape: "triangle-left", filled: true, fill: INK })];
    case "running":
      return [end({ shape: "triangle-right", stroke: INK })];
  }
}
