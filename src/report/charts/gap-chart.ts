/** Seal gaps of one standard in one environment by quarter, as found and as left, against the standard's tolerance. */
import type { GapQuarter } from "../../interval/month-result.ts";
import { sentenceCase } from "../group-name.ts";
import { counted, fixed, millimetres, share, whole } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, type PlotLayer, plot } from "./layers.ts";
import { apart } from "./text-room.ts";
import { type EnvironmentStyle, INK, label, PANEL, PAPER, panel, QUIET } from "./theme.ts";

export interface Tolerance {
  readonly lowMm: number;
  readonly highMm: number;
}

export interface GapInput {
  /** Quarters of one standard and environment, both states. */
  readonly quarters: readonly GapQuarter[];
  /** Every quarter of the axis, in order. */
  readonly axis: readonly string[];
  readonly topMm: number;
  readonly tolerance: Tolerance | null;
  readonly style: EnvironmentStyle;
}

type Scale = ReturnType<typeof onScale>;

const MOST_QUARTERS_NAMED = 9;

/** The drawing of one standard's gaps in one environment. */
export function gapSpec(input: GapInput): LayeredSpec {
  const { axis, style } = input;
  // Years by their number at the first quarter; the others named where they leave room.
  const between = axis.length <= MOST_QUARTERS_NAMED ? "slice(datum.value, 5)" : "''";
  const x = {
    field: "quarter",
    type: "ordinal",
    sort: null,
    scale: { domain: axis, type: "point", padding: 0.5 },
    axis: {
      title: "Quarter",
      labelExpr: `slice(datum.value, 5) == 'Q1' ? slice(datum.value, 0, 4) : ${between}`,
      labelOverlap: false,
      labelAngle: 0,
    },
  } as const;
  const y = onScale({ domain: [0, input.topMm], nice: false }, { title: "Seal gap (mm)", tickCount: 5 });
  const found = input.quarters.filter((quarter) => quarter.state === "found");
  const left = input.quarters.filter((quarter) => quarter.state === "left");
  const series = (
    rows: readonly GapQuarter[],
    colour: string,
    dash: number[],
    filled: boolean,
  ): PlotLayer[] => [
    plot(rows, { type: "area", fill: colour, opacity: 0.14 }, { x, y: y("lowMm"), y2: { field: "highMm" } }),
    plot(
      rows,
      { type: "line", stroke: colour, strokeWidth: 1.75, strokeDash: dash },
      { x, y: y("medianMm") },
    ),
    plot(
      rows,
      { type: "point", filled, size: 26, opacity: 1, stroke: colour, fill: filled ? colour : PAPER },
      {
        x,
        y: y("medianMm"),
      },
    ),
  ];
  return panel([
    ...toleranceLayers(input, y),
    ...series(left, QUIET, [3, 2.5], false),
    ...series(found, style.colour, style.dash, true),
    ...names(input, found, left),
  ]);
}

function toleranceLayers({ tolerance }: GapInput, y: Scale): PlotLayer[] {
  if (tolerance === null) return [];
  const edges = [tolerance.lowMm, tolerance.highMm].filter((edge) => edge > 0).map((edgeMm) => ({ edgeMm }));
  const words = `tolerance ${fixed(tolerance.lowMm, 2)} to ${millimetres(tolerance.highMm)}`;
  return [
    plot(edges, { type: "rule", stroke: INK, strokeWidth: 1 }, { y: y("edgeMm") }),
    ...label(
      [{ edgeMm: tolerance.highMm, words }],
      { align: "left", baseline: "bottom", dy: -3 },
      {
        x: { value: 4 },
        y: y("edgeMm"),
        text: { field: "words" },
      },
    ),
  ];
}

/** "as found" and "as left" at the first quarter, where the two are closest to what they began as. */
function names(input: GapInput, found: readonly GapQuarter[], left: readonly GapQuarter[]): PlotLayer[] {
  const height = (mm: number) => PANEL.height * (1 - mm / input.topMm);
  const ends = [
    ...found
      .slice(-1)
      .map((end) => ({ name: "as found", colour: input.style.colour, y: height(end.medianMm) - 11 })),
    ...left.slice(-1).map((end) => ({ name: "as left", colour: QUIET, y: height(end.medianMm) + 12 })),
  ];
  return apart(ends, 15, PANEL.height - 6).flatMap((end) =>
    label(
      [end],
      { align: "right", fontWeight: 600, fill: end.colour },
      {
        x: { value: PANEL.width - 4 },
        y: { value: end.y },
        text: { field: "name" },
      },
    ),
  );
}

/** The chart of one standard in one environment. */
export function gapChart(standard: string, environment: string, input: GapInput): Chart {
  const rows = input.quarters;
  const last = rows.filter((quarter) => quarter.state === "found").at(-1);
  const place = sentenceCase(`${environment}, ${standard}`);
  const tolerance =
    input.tolerance === null
      ? "the fleet file gives no tolerance"
      : `tolerance ${fixed(input.tolerance.lowMm, 2)} to ${millimetres(input.tolerance.highMm)}`;
  const outside = outsideInWords(last);
  const readings = rows.reduce((sum, quarter) => sum + quarter.readings, 0);
  return {
    id: chartId("gaps", standard, environment),
    title: `${place}: ${outside}`,
    spec: gapSpec(input),
    alt:
      `Seal gaps of the ${standard} standard, ${environment}, by quarter, as found and as left; ${tolerance}. ` +
      `${outside}${last === undefined ? "" : `, median ${millimetres(last.medianMm)}`}.`,
    caption: `${whole(readings)} readings. Line: median. Band: eight readings of ten.`,
    columns: [
      { head: "Quarter", name: "quarter" },
      { head: "State", name: "state" },
      { head: "Readings", name: "readings", decimals: 0 },
      { head: "Median (mm)", name: "median_mm", decimals: 2 },
      { head: "10 % below (mm)", name: "tenth_percentile_mm", decimals: 2 },
      { head: "90 % below (mm)", name: "ninetieth_percentile_mm", decimals: 2 },
      { head: "Out of tolerance (%)", name: "out_of_tolerance_percent", decimals: 1 },
    ],
    rows: rows.map((quarter): ChartCell[] => [
      quarter.quarter,
      `as ${quarter.state}`,
      quarter.readings,
      quarter.medianMm,
      quarter.lowMm,
      quarter.highMm,
      quarter.outOfTolerance === null ? null : 100 * quarter.outOfTolerance,
    ]),
  };
}

/** "2026-Q1" as "Q1 2026", with no place to break it. */
const quarterInWords = (quarter: string): string => quarter.split("-").reverse().join("\u00a0");

/** What the last quarter found; without a tolerance there is nothing to be out of. */
function outsideInWords(last: GapQuarter | undefined): string {
  if (last === undefined) return "no gap as found";
  if (last.outOfTolerance === null)
    return `median ${millimetres(last.medianMm)} as found in ${quarterInWords(last.quarter)}, no tolerance given`;
  return `${share(last.outOfTolerance)} of ${counted(last.readings, "seal")} found out of tolerance in ${quarterInWords(last.quarter)}`;
}
