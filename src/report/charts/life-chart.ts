/**
 * Life of one group on Weibull axes: nonparametric steps with bounds, the fitted line with bounds, the life at which
 * 10 % are over the limit read off, and below the plot one row of marks for each kind of observation, told apart by shape.
 */

import type { GroupLife } from "../../interval/life-findings.ts";
import type { GroupResult } from "../../interval/month-result.ts";
import { boundedHours } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, type PlotLayer, plot } from "./layers.ts";
import { type LifeKindName, markLayers, ROW_PX } from "./life-marks.ts";
import type { HoursRange } from "./life-range.ts";
import { lifeCaption, lifeInWords, lifeTitle } from "./life-words.ts";
import { fitted, textWidthPx } from "./text-room.ts";
import { type EnvironmentStyle, INK, label, MARGIN, PANEL, panel, QUIET, SMALL_PX } from "./theme.ts";
import { logHours, SHARE_AXIS, SHARE_SCALE, weibullHeight } from "./weibull-axes.ts";

export interface LifeInput {
  readonly life: GroupLife;
  /** Shared by the panels of one part. */
  readonly range: HoursRange;
  readonly kinds: readonly LifeKindName[];
  readonly label: string;
  readonly style: EnvironmentStyle;
  /** What the event is called. __Default value:__ over the limit */
  readonly words?: EventWords;
}

export interface EventWords {
  /** Title of the share's axis. */
  readonly axis: string;
  /** At the life read off, before its hours: "10 % over by". */
  readonly tenPercentBy: string;
}
const OVER_LIMIT: EventWords = { axis: String(SHARE_AXIS.title), tenPercentBy: "10 % over by" };

/** A point of a curve with its bounds as heights on the Weibull axis; a missing bound is left to another row. */
interface Height {
  readonly hours: number;
  readonly height: number;
}
interface Span {
  readonly hours: number;
  readonly low: number;
  readonly high: number;
}

/** Room for the names of the rows of marks. */
const LEFT_PX = MARGIN.left + 6;
const RIGHT_PX = MARGIN.right - 6;

const TEN_PERCENT = weibullHeight(0.1)!;

const heights = <Point extends { readonly hours: number }>(
  points: readonly Point[],
  survival: (point: Point) => number | null,
): Height[] =>
  points.flatMap((point) => {
    const value = survival(point);
    const height = value === null ? null : weibullHeight(1 - value);
    return height === null ? [] : [{ hours: point.hours, height }];
  });

/** The drawing of one group's life on Weibull axes. */
export function lifeSpec(input: LifeInput): LayeredSpec {
  const { life, style, kinds, words = OVER_LIMIT } = input;
  const { scale, axis } = logHours(input.range.lowest, input.range.highest);
  const x = onScale(scale, { ...axis, offset: kinds.length * ROW_PX + 8 });
  const y = onScale(SHARE_SCALE, { ...SHARE_AXIS, title: words.axis, titleX: -LEFT_PX + 2 });
  const steps = (survival: (point: GroupLife["survival"][number]) => number | null, mark: object) =>
    plot(
      heights(life.survival, survival),
      { type: "line", clip: true, interpolate: "step-after", ...mark },
      {
        x: x("hours"),
        y: y("height"),
      },
    );
  const fit = heights(life.curve, (point) => point.survival);
  const bound = { stroke: QUIET, strokeWidth: 0.9, strokeDash: [1.5, 2.5] };
  return panel(
    [
      plot(
        fitSpans(life),
        { type: "area", clip: true, fill: style.colour, opacity: 0.16 },
        {
          x: x("hours"),
          y: y("low"),
          y2: { field: "high" },
        },
      ),
      plot(
        fit,
        { type: "line", clip: true, stroke: style.colour, strokeWidth: 2.25, strokeDash: style.dash },
        {
          x: x("hours"),
          y: y("height"),
        },
      ),
      steps((point) => point.lower, bound),
      steps((point) => point.upper, bound),
      steps((point) => point.survival, { stroke: INK, strokeWidth: 1.1 }),
      ...tenPercentLayers(input, x, y),
      ...markLayers(life.marks, kinds, input.range, x),
      ...label(
        [{ label: fitted(input.label, PANEL.width - 20, SMALL_PX) }],
        { align: "left", baseline: "top", fill: style.colour, fontWeight: 600 },
        { x: { value: 8 }, y: { value: 2 }, text: { field: "label" } },
      ),
    ],
    { margin: { bottom: MARGIN.bottom + kinds.length * ROW_PX + 8, left: LEFT_PX, right: RIGHT_PX } },
  );
}

const fitSpans = (life: GroupLife): Span[] =>
  life.curve.flatMap((point) => {
    const low = weibullHeight(1 - point.upper);
    const high = weibullHeight(1 - point.lower);
    return low === null || high === null ? [] : [{ hours: point.hours, low, high }];
  });

type Scale = ReturnType<typeof onScale>;

/** The life at which 10 % are over, read off along the curve with its bounds as a bar. */
function tenPercentLayers({ life, range, words = OVER_LIMIT }: LifeInput, x: Scale, y: Scale): PlotLayer[] {
  if (life.weibull === null) return [];
  const { tenPercentHours } = life.weibull;
  const row = {
    start: range.lowest,
    hours: tenPercentHours.estimate,
    lower: tenPercentHours.lower ?? range.lowest,
    upper: tenPercentHours.upper ?? range.highest,
    height: TEN_PERCENT,
    label: `${words.tenPercentBy} ${boundedHours(tenPercentHours)}`,
  };
  // The curve climbs to the right, so words stand above the bar's left or below its right, where there is room.
  const barEndPx =
    (PANEL.width * Math.log(row.upper / range.lowest)) / Math.log(range.highest / range.lowest);
  const beyond = barEndPx + 10 + textWidthPx(row.label, SMALL_PX) < PANEL.width;
  const thin = { type: "rule", clip: true, stroke: INK, strokeWidth: 0.75 } as const;
  return [
    plot([row], thin, { x: x("start"), x2: { field: "hours" }, y: y("height") }),
    plot([row], thin, { x: x("hours"), y: y("height"), y2: { value: PANEL.height } }),
    plot(
      [row],
      { type: "rule", clip: true, stroke: INK, strokeWidth: 4 },
      {
        x: x("lower"),
        x2: { field: "upper" },
        y: y("height"),
      },
    ),
    ...label(
      [row],
      { align: "left", baseline: beyond ? "top" : "bottom", dy: beyond ? 6 : -5 },
      { x: { value: beyond ? barEndPx + 6 : 8 }, y: y("height"), text: { field: "label" } },
    ),
  ];
}

/** The chart of one group. */
export function lifeChart(
  group: GroupResult,
  shared: { readonly range: HoursRange; readonly kinds: readonly LifeKindName[] },
  style: EnvironmentStyle,
  confidence: number,
): Chart {
  const { life } = group;
  const label = `${group.key.environment}, ${group.key.standard}`;
  return {
    id: chartId("life", group.slug),
    title: lifeTitle(label, life),
    spec: lifeSpec({ life, ...shared, label, style }),
    alt: lifeInWords(label, life),
    caption: lifeCaption(life, shared.range, confidence),
    columns: [
      { head: "Curve", name: "curve" },
      { head: "Hours", name: "hours", decimals: 0 },
      { head: "Over the limit", name: "share_over", decimals: 3 },
      { head: "Lower", name: "lower", decimals: 3, rounding: "down" },
      { head: "Upper", name: "upper", decimals: 3, rounding: "up" },
    ],
    rows: [
      ...life.survival.map((point): ChartCell[] => curveRow("observed", point)),
      ...life.curve.map((point): ChartCell[] => curveRow("fitted", point)),
    ],
  };
}

/** Survival as the share over the limit: the bounds change places. */
const curveRow = (curve: string, point: GroupLife["survival"][number]): ChartCell[] => [
  curve,
  point.hours,
  1 - point.survival,
  point.upper === null ? null : 1 - point.upper,
  point.lower === null ? null : 1 - point.lower,
];
