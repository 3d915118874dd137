/**
 * Wear against hours of one group: each component a faint line, the group's line and prediction band over them, the
 * limits as labelled rules, looks due as ticks of the hours axis, readings as a rug.
 *
 * Above 1500 readings the lines are one grey mass, and megabytes of it: then the ground is a count of readings in cells,
 * and the caption says so. Panels of one part share both axes.
 */
import type { GroupResult } from "../../interval/month-result.ts";
import type { Life } from "../../records/life.ts";
import { millimetres, whole } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type AxisChoice, type LayeredSpec, onScale, type PlotLayer, plot } from "./layers.ts";
import { fitted, namedTicks, namingOnly, textWidthPx } from "./text-room.ts";
import { type EnvironmentStyle, INK, label, PANEL, panel, SMALL_PX } from "./theme.ts";
import { MOST_SINGLE_READINGS, wearCells } from "./wear-cells.ts";
import { cellLayer, lineLayers, strayLayers } from "./wear-ground.ts";
import { wearCaption, wearInWords, wearTitle } from "./wear-words.ts";

export interface WearAxes {
  readonly maxHours: number;
  readonly minMm: number;
  readonly maxMm: number;
}

export interface WearReading {
  /** One component's life: the readings that a line joins. */
  readonly line: number;
  readonly hours: number;
  readonly wearMm: number;
}

export interface WearInput {
  readonly readings: readonly WearReading[];
  readonly band: GroupResult["wear"]["band"];
  readonly axes: WearAxes;
  /** null: none is given, and none is drawn. */
  readonly replaceAtMm: number | null;
  readonly unsafeAtMm: number | null;
  /** Hours between looks as approved now; ticks of the axis. */
  readonly intervalH: number | null;
  /** What the group's line is called at its end. */
  readonly label: string;
  readonly style: EnvironmentStyle;
}

/** The readings of a group; each life is a line of its own, since another life begins at its own zero. */
export function wearReadings(group: GroupResult): WearReading[] {
  const readings: WearReading[] = [];
  for (const [line, { readingHours, readingWearMm }] of group.lives.entries()) {
    for (let at = 0; at < readingHours.length; at++)
      readings.push({ line, hours: readingHours[at]!, wearMm: readingWearMm[at]! });
  }
  return readings;
}

/** How far past the last limit the axis goes to hold a reading; a stray one beyond is marked at the edge instead. */
const FARTHEST = 1.5;

const greater = (a: number, b: number): number => Math.max(a, b);
const lesser = (a: number, b: number): number => Math.min(a, b);

/** Axes for every group given: those of one part. They hold all readings but strays far past the limits. */
export function wearAxes(groups: readonly GroupResult[]): WearAxes {
  const lives = groups.flatMap((group) => group.lives);
  const extreme = (
    start: number,
    of: (life: Life) => readonly number[],
    pick: (a: number, b: number) => number,
  ) => lives.reduce((found, life) => of(life).reduce(pick, found), start);
  const limit = groups.reduce((most, group) => Math.max(most, group.unsafeAtMm ?? group.replaceAtMm), 0.001);
  const highest = extreme(0, (life) => life.readingWearMm, greater);
  return {
    maxHours: extreme(1, (life) => life.readingHours, greater),
    // Scatter of the measurement reads a new part below zero now and then.
    minMm: Math.max(
      -limit / 4,
      extreme(0, (life) => life.readingWearMm, lesser),
    ),
    maxMm: Math.max(1.12 * limit, Math.min(highest, FARTHEST * limit)),
  };
}

/** The drawing of one group's readings. */
export function wearSpec(input: WearInput): LayeredSpec {
  const { axes, style, band } = input;
  const x = onScale({ domain: [0, axes.maxHours], nice: false }, hoursAxis(input.intervalH, axes.maxHours));
  const y = onScale({ domain: [axes.minMm, axes.maxMm], nice: false }, { title: "Wear (mm)", tickCount: 5 });
  const single = input.readings.length <= MOST_SINGLE_READINGS;
  const last = band.filter((point) => point.meanMm < 0.96 * axes.maxMm).at(-1);
  const names =
    last === undefined
      ? []
      : [{ hours: last.hours, meanMm: last.meanMm, label: fitted(input.label, PANEL.width - 20, SMALL_PX) }];
  // At the line's end, on its left; where it ends too near the axis, on its right.
  const roomPx = ((last?.hours ?? 0) / axes.maxHours) * PANEL.width;
  const side =
    textWidthPx(input.label, SMALL_PX) + 8 < roomPx
      ? { align: "right", dx: -4, dy: -6 }
      : { align: "left", dx: 6, dy: 6 };
  const line = {
    type: "line",
    clip: true,
    stroke: style.colour,
    strokeWidth: 2.25,
    strokeDash: style.dash,
  } as const;
  return panel([
    ...(single ? lineLayers(input.readings, x, y) : [cellLayer(wearCells(input.readings, axes), x, y)]),
    ...strayLayers(input.readings, axes, x),
    plot(
      band,
      { type: "area", clip: true, fill: style.colour, opacity: 0.16 },
      { x: x("hours"), y: y("lowMm"), y2: { field: "highMm" } },
    ),
    plot(band, line, { x: x("hours"), y: y("meanMm") }),
    ...limitLayers(input, y),
    ...label(
      names,
      { fill: style.colour, baseline: "bottom", fontWeight: 600, ...side },
      {
        x: x("hours"),
        y: y("meanMm"),
        text: { field: "label" },
      },
    ),
  ]);
}

type Scale = ReturnType<typeof onScale>;

/** Ticks where looks fall due; without one known interval, ordinary ticks. */
function hoursAxis(intervalH: number | null, maxHours: number): AxisChoice {
  if (intervalH === null) return { title: "Flight hours", tickCount: 5, format: "d" };
  const values = Array.from({ length: Math.floor(maxHours / intervalH) + 1 }, (_, look) => look * intervalH);
  return {
    title: `Flight hours (a tick at each look due, every ${whole(intervalH)} h)`,
    values,
    labelExpr: namingOnly(namedTicks(values, PANEL.width / maxHours, 36)),
    labelOverlap: false,
  };
}

/** The limits across the panel, each named where the group leaves room. */
function limitLayers({ replaceAtMm, unsafeAtMm, band, axes }: WearInput, y: Scale): PlotLayer[] {
  const limits = [
    ...(replaceAtMm === null
      ? []
      : [{ mm: replaceAtMm, label: `replace at ${millimetres(replaceAtMm)}`, dash: [1, 0] }]),
    ...(unsafeAtMm === null
      ? []
      : [{ mm: unsafeAtMm, label: `unsafe at ${millimetres(unsafeAtMm)}`, dash: [6, 3] }]),
  ];
  const right = (band.at(-1)?.hours ?? axes.maxHours) < 0.62 * axes.maxHours;
  return limits.flatMap(({ dash, ...limit }) => [
    plot([limit], { type: "rule", stroke: INK, strokeWidth: 1, strokeDash: dash }, { y: y("mm") }),
    ...label(
      [limit],
      { align: right ? "right" : "left", baseline: "bottom", dy: -3 },
      {
        x: { value: right ? PANEL.width : 4 },
        y: y("mm"),
        text: { field: "label" },
      },
    ),
  ]);
}

/** The chart of one group; `serials` are those of all components, by number. */
export function wearChart(
  group: GroupResult,
  axes: WearAxes,
  style: EnvironmentStyle,
  serials: readonly string[],
): Chart {
  const readings = wearReadings(group);
  const label = `${group.key.environment}, ${group.key.standard}`;
  const intervalH = group.presentIntervalsH.length === 0 ? null : Math.min(...group.presentIntervalsH);
  const { replaceAtMm, unsafeAtMm } = group;
  return {
    id: chartId("wear", group.slug),
    title: wearTitle(group, label),
    spec: wearSpec({
      readings,
      band: group.wear.band,
      axes,
      replaceAtMm,
      unsafeAtMm,
      intervalH,
      label,
      style,
    }),
    alt: wearInWords(group, label),
    caption: wearCaption(group, readings, axes),
    columns: [
      { head: "Component", name: "component" },
      { head: "Life", name: "life", decimals: 0 },
      { head: "Hours", name: "hours", decimals: 0 },
      { head: "Wear (mm)", name: "wear_mm", decimals: 2 },
    ],
    rows: { length: readings.length, [Symbol.iterator]: () => rowsOf(group, serials) },
  };
}

function* rowsOf(group: GroupResult, serials: readonly string[]): Generator<readonly ChartCell[]> {
  for (const { component, life, readingHours, readingWearMm } of group.lives) {
    const serial = serials[component] ?? `number ${component}`;
    for (let at = 0; at < readingHours.length; at++)
      yield [serial, life, readingHours[at]!, readingWearMm[at]!];
  }
}
