/** Two plain charts that notebooks share, made of the report's own layers. */
import { type Chart, type ChartCell, chartId } from "../src/report/charts/chart.ts";
import { onScale, plot } from "../src/report/charts/layers.ts";
import { textWidthPx } from "../src/report/charts/text-room.ts";
import { INK, label, PANEL, panel, QUIET, RULE, SMALL_PX } from "../src/report/charts/theme.ts";

const ROW_PX = 26;

/** A dot with its bounds. */
export interface Dot {
  readonly name: string;
  readonly colour?: string;
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

export interface DotChart {
  readonly title: string;
  readonly caption: string;
  /** With its unit: "Rate (mm per 1000 h)". */
  readonly axis: string;
  readonly dots: readonly Dot[];
  readonly decimals: number;
  /** Where a rule is drawn through all rows (1 for a ratio); left out: none. */
  readonly at?: number;
}

/** Named estimates under each other, each with its bounds; the axis begins at zero. */
export function dotChart({ title, caption, axis, dots, decimals, at }: DotChart): Chart {
  const rows = dots.map((dot) => ({ ...dot, colour: dot.colour ?? INK }));
  const room = 14 + rows.reduce((most, { name }) => Math.max(most, textWidthPx(name, SMALL_PX)), 30);
  const top = rows.reduce((most, { upper }) => Math.max(most, upper), at ?? 0);
  const x = onScale({ domain: [0, top * 1.04], nice: false }, { title: axis, tickCount: 5 });
  const y = {
    field: "name",
    type: "nominal",
    sort: null,
    scale: { domain: rows.map(({ name }) => name), type: "point", padding: 0.5 },
    axis: { title: null, ticks: false, domain: false, grid: true, gridColor: RULE, labelLimit: 0 },
  } as const;
  const colour = { field: "colour", type: "nominal", scale: null, legend: null } as const;
  const rule = at === undefined ? [] : [plot([{ at }], { type: "rule", stroke: QUIET }, { x: x("at") })];
  const spec = panel(
    [
      ...rule,
      plot(
        rows,
        { type: "rule", strokeWidth: 2 },
        { x: x("lower"), x2: { field: "upper" }, y, stroke: colour },
      ),
      plot(
        rows,
        { type: "point", shape: "circle", filled: true, size: 60, opacity: 1 },
        { x: x("estimate"), y, fill: colour },
      ),
    ],
    { width: 430 - room, height: Math.max(1, rows.length) * ROW_PX, margin: { left: room, top: 8 } },
  );
  return {
    id: chartId("dots", title),
    title,
    spec,
    caption,
    alt: `${axis}: ${rows.map(({ name, estimate }) => `${name} ${estimate.toFixed(decimals)}`).join(", ")}.`,
    columns: [
      { head: "", name: "name" },
      { head: axis, name: "estimate", decimals },
      { head: "Lower", name: "lower", decimals },
      { head: "Upper", name: "upper", decimals },
    ],
    rows: rows.map(({ name, estimate, lower, upper }): ChartCell[] => [name, estimate, lower, upper]),
  };
}

/** A line of points, named at its right end. */
export interface Line {
  readonly name: string;
  readonly colour?: string;
  readonly dash?: readonly number[];
  /** Points that are not known are left out by the caller. */
  readonly points: readonly { readonly x: number; readonly y: number }[];
  /** __Default value:__ "step-after": what holds from a value on. */
  readonly interpolate?: "linear" | "step-after";
}

export interface LineChart {
  readonly title: string;
  readonly caption: string;
  readonly xAxis: string;
  readonly yAxis: string;
  readonly lines: readonly Line[];
  readonly decimals: { readonly x: number; readonly y: number };
  readonly xLog?: true;
}

const LABEL_PX = 13;

/** Heights of labels at the right ends, in px from the top: as near to their lines as leaves each readable. */
function labelHeights(ends: readonly number[]): number[] {
  const order = ends.map((_, at) => at).sort((a, b) => ends[a]! - ends[b]!);
  const placed = [...ends];
  for (const [rank, at] of order.entries()) {
    const above = rank === 0 ? Number.NEGATIVE_INFINITY : placed[order[rank - 1]!]!;
    placed[at] = Math.max(ends[at]!, above + LABEL_PX);
  }
  return placed;
}

/** A line in words: every point of a short one, the ends of a long one. */
function inWords({ name, points }: Line, decimals: LineChart["decimals"]): string {
  const told = points.length > LONG_LINE ? [points[0]!, points.at(-1)!] : points;
  const words = told.map(({ x, y }) => `${y.toFixed(decimals.y)} at ${x.toFixed(decimals.x)}`);
  return `${name}: ${words.join(points.length > LONG_LINE ? " to " : ", ")}.`;
}

/** With more points than this a line is drawn without dots. */
const LONG_LINE = 20;

/** Lines over one axis, the upright axis from zero, each named at its right end. */
export function lineChart(chart: LineChart): Chart {
  const { title, caption, decimals } = chart;
  const lines = chart.lines.filter(({ points }) => points.length > 0);
  const all = lines.flatMap(({ points }) => points);
  const xs = all.map(({ x }) => x);
  const top = 1.1 * all.reduce((most, { y }) => Math.max(most, y), 0);
  const domain = [Math.min(...xs), Math.max(...xs)];
  const type = chart.xLog ? { type: "log" as const } : {};
  const x = onScale({ domain, nice: false, ...type }, { title: chart.xAxis, tickCount: 6 });
  const y = onScale({ domain: [0, top], nice: false }, { title: chart.yAxis, tickCount: 5 });
  const right = 14 + lines.reduce((most, { name }) => Math.max(most, textWidthPx(name, SMALL_PX)), 0);
  const heights = labelHeights(lines.map(({ points }) => PANEL.height * (1 - points.at(-1)!.y / top)));
  const spec = panel(
    lines.flatMap(({ name, colour = INK, dash = [1, 0], interpolate = "step-after", points }, at) => [
      plot(
        points,
        { type: "line", stroke: colour, strokeWidth: 2, strokeDash: [...dash], interpolate },
        { x: x("x"), y: y("y"), order: { value: null } },
      ),
      plot(
        points.length > LONG_LINE ? [] : points,
        { type: "point", shape: "circle", filled: true, size: 22, opacity: 1, fill: colour },
        { x: x("x"), y: y("y") },
      ),
      ...label(
        [{ ...points.at(-1)!, name }],
        { align: "left", dx: 7, fill: colour },
        { x: x("x"), y: { value: heights[at]! }, text: { field: "name" } },
      ),
    ]),
    { width: PANEL.width + 60, margin: { right, left: 56 } },
  );
  return {
    id: chartId("lines", title),
    title,
    spec,
    caption,
    alt: lines.map((line) => inWords(line, decimals)).join(" "),
    columns: [
      { head: "Line", name: "line" },
      { head: chart.xAxis, name: "x", decimals: decimals.x },
      { head: chart.yAxis, name: "y", decimals: decimals.y },
    ],
    rows: lines.flatMap(({ name, points }) => points.map((p): ChartCell[] => [name, p.x, p.y])),
  };
}
