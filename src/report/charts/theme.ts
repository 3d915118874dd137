/**
 * What every chart shares: panel size, type sizes, ink, and how environments are told apart.
 *
 * Colours are the page's custom properties written into presentation attributes, so that one drawing follows the light,
 * dark and print schemes; the colour after the comma serves where a drawing stands outside its page. Nothing is told by
 * colour alone: an environment also has a line style and its name written at the mark.
 */
import type { TopLevelSpec } from "vega-lite";
import { asVegaLayers, type Encoding, type LayeredSpec, type Mark, type PlotLayer, plot } from "./layers.ts";

type Config = NonNullable<TopLevelSpec["config"]>;

export const INK = "var(--ink, #1c1b19)";
export const QUIET = "var(--quiet, #5f5c55)";
export const RULE = "var(--rule, #d3cfc5)";
export const PAPER = "var(--paper, #fcfbf8)";
/** What is recommended, and nothing else. */
export const ACCENT = "var(--accent, #46309a)";
/** Ground where nothing was observed; `drawChart` gives it its pattern. */
export const HATCH = "url(#hatch)";

const ENVIRONMENT_COLOURS = [
  "var(--env-1, #945400)",
  "var(--env-2, #005f92)",
  "var(--env-3, #00705a)",
  "var(--env-4, #98407a)",
  "var(--env-5, #5c5c00)",
  "var(--env-6, #4d5963)",
] as const;
/** Dash patterns in px; solid first. */
const ENVIRONMENT_DASHES: readonly (readonly number[])[] = [
  [1, 0],
  [7, 3],
  [2, 2.5],
  [9, 3, 2, 3],
  [4, 2],
  [12, 4],
];

export interface EnvironmentStyle {
  readonly colour: string;
  /** A new array each time, since vega-lite's types ask for one it could write to. */
  readonly dash: number[];
}

/** The environments of a fleet in the order of its file, each with its colour and line style. */
export function environmentStyles(environments: readonly string[]): ReadonlyMap<string, EnvironmentStyle> {
  const distinct = [...new Set(environments)];
  return new Map(
    distinct.map((name, index) => [
      name,
      {
        colour: ENVIRONMENT_COLOURS[index % ENVIRONMENT_COLOURS.length]!,
        // The second time round the same colour comes with another line style.
        dash: [
          ...ENVIRONMENT_DASHES[
            (index + Math.floor(index / ENVIRONMENT_COLOURS.length)) % ENVIRONMENT_DASHES.length
          ]!,
        ],
      },
    ]),
  );
}

/** The style of an environment, or plain ink for one the fleet file doesn't know. */
export const styleOf = (
  styles: ReadonlyMap<string, EnvironmentStyle>,
  environment: string,
): EnvironmentStyle => styles.get(environment) ?? { colour: INK, dash: [1, 0] };

/**
 * Plot of a panel in px, without the margins that hold its axes. With margins it is 388 px wide, for a narrow telephone: 360
 * px less what the page keeps free is 342, where type of 12.5 px comes out at 11.
 */
export const PANEL = { width: 328, height: 210 } as const;
export const MARGIN = { left: 48, right: 12, top: 34, bottom: 44 } as const;
export const CHART_WIDTH_PX = MARGIN.left + PANEL.width + MARGIN.right;
export const SMALL_PX = 12.5;

const CONFIG: Config = {
  font: "inherit",
  view: { stroke: null },
  aria: false,
  axis: {
    aria: false,
    grid: false,
    domainColor: QUIET,
    domainWidth: 0.75,
    tickColor: QUIET,
    tickWidth: 0.75,
    tickSize: 4,
    labelColor: INK,
    labelFontSize: SMALL_PX,
    labelPadding: 3,
    labelOverlap: "greedy",
    titleColor: QUIET,
    titleFontSize: SMALL_PX,
    titleFontWeight: "normal",
  },
  axisX: { titleAnchor: "end", titlePadding: 7, labelFlush: false },
  // Titles of upright axes stand level above their axis, where they are read without turning the head.
  axisY: {
    titleAngle: 0,
    titleAlign: "left",
    titleBaseline: "bottom",
    titleX: -MARGIN.left + 2,
    titleY: -12,
  },
  text: { fontSize: SMALL_PX, fill: INK },
};

/** A panel: the given layers on the shared size, type and ink. */
export function panel(
  layers: readonly PlotLayer[],
  size: {
    readonly width?: number;
    readonly height?: number;
    readonly margin?: Partial<Record<keyof typeof MARGIN, number>>;
  } = {},
): LayeredSpec {
  return {
    width: size.width ?? PANEL.width,
    height: size.height ?? PANEL.height,
    // Fixed margins: no text has to be measured, so panels side by side have the same geometry everywhere.
    autosize: { type: "none" },
    padding: { ...MARGIN, ...size.margin },
    config: CONFIG,
    layer: asVegaLayers(layers),
  };
}

/** Words in the plot, on a halo of paper so that lines under them don't cut through the letters. */
export function label<Row extends object>(
  rows: readonly Row[],
  mark: Omit<Mark, "type">,
  encoding: Encoding<Row>,
): PlotLayer[] {
  const halo = { stroke: PAPER, strokeWidth: 3.5, strokeJoin: "round", fill: PAPER };
  return [
    plot(rows, { ...mark, type: "text", ...halo }, encoding),
    plot(rows, { ...mark, type: "text" }, encoding),
  ];
}
