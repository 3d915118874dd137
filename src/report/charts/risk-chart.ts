/**
 * A risk against the interval: each line of evidence with its one-sided upper bound, the acceptable level as a rule,
 * the present and the recommended interval marked, and the axis hatched where no component was followed that long.
 */
import type { Bounded, Recommendation, RiskAtInterval } from "../../interval/month-result.ts";
import { share } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { acceptableAt } from "./label-room.ts";
import { type LayeredSpec, onScale, type PlotLayer, plot } from "./layers.ts";
import { intervalLayers, keyLayers, unobservedLayers } from "./risk-intervals.ts";
import { percentAxis, riskFloor } from "./risk-scale.ts";
import { riskInWords, riskTitle } from "./risk-words.ts";
import { namedTicks, namingOnly } from "./text-room.ts";
import { type EnvironmentStyle, INK, label, PANEL, panel } from "./theme.ts";

export interface RiskLine {
  /** "from lives" */
  readonly name: string;
  readonly dash: number[];
  readonly points: readonly RiskPoint[];
}

export interface RiskPoint {
  readonly intervalH: number;
  readonly estimate: number;
  readonly lower: number | null;
  /** null: no upper bound; drawn as the top of the axis. */
  readonly upper: number | null;
}

export interface RiskInput {
  /** "Over the limit per inspection": heads the upright axis. */
  readonly name: string;
  /** What a share of it does, as the title says it: "of looks find one over the limit". */
  readonly finding: string;
  readonly lines: readonly RiskLine[];
  readonly acceptable: number;
  readonly intervalsH: readonly number[];
  readonly presentH: number;
  /** null: the same as the present one, or none. */
  readonly recommendedH: number | null;
  /** Greatest age with enough components at risk; null: none anywhere. */
  readonly observedToH: number | null;
  readonly colour: string;
}

type RiskOf = (risk: RiskAtInterval) => Bounded | null;

function line(name: string, dash: number[], risks: readonly RiskAtInterval[], pick: RiskOf): RiskLine {
  const points = risks.flatMap((risk): RiskPoint[] => {
    const value = pick(risk);
    return value === null ? [] : [{ intervalH: risk.intervalH, ...value }];
  });
  return { name, dash, points };
}

/** The drawing of one risk against the interval. */
export function riskSpec(input: RiskInput): LayeredSpec {
  const { intervalsH, acceptable, colour } = input;
  const floor = riskFloor(acceptable);
  const range = axisEnds(intervalsH);
  const named = namedTicks(intervalsH, PANEL.width / (range.last - range.first), 32);
  const x = onScale(
    { domain: [range.first, range.last], nice: false, zero: false },
    {
      title: "Interval between looks (flight hours)",
      values: [...intervalsH],
      labelExpr: namingOnly(named),
      labelOverlap: false,
    },
  );
  const y = onScale(
    { domain: [floor, 1], type: "log", nice: false },
    { title: `${input.name} (log scale)`, ...percentAxis(floor) },
  );
  const rule = { acceptable, label: `acceptable ${share(acceptable)}` };
  const words = acceptableAt(input, rule.label, floor, range);
  return panel([
    ...unobservedLayers(input.observedToH, range, x),
    ...input.lines.flatMap((one) => lineLayers(one, floor, colour, x, y)),
    plot([rule], { type: "rule", stroke: INK, strokeWidth: 1, strokeDash: [6, 3] }, { y: y("acceptable") }),
    ...intervalLayers(input, range, floor, x),
    ...label(
      [rule],
      { align: words.align, baseline: "bottom", dy: -3 },
      { x: { value: words.xPx }, y: y("acceptable"), text: { field: "label" } },
    ),
    ...keyLayers(input, range, floor),
  ]);
}

/** The grid's ends; a grid of one interval gets room on both sides of it. */
function axisEnds(intervalsH: readonly number[]): { readonly first: number; readonly last: number } {
  const first = Math.min(...intervalsH);
  const last = Math.max(...intervalsH);
  return first < last ? { first, last } : { first: 0.8 * first, last: 1.2 * last };
}

type Scale = ReturnType<typeof onScale>;

/** A log axis has no zero: far below its floor stands for none, so that a line comes up from under the axis. */
const FAR_BELOW = 1e-6;

/** Estimate as a line, its upper bound as the edge of a band; both run out of the plot below its floor. */
function lineLayers(line: RiskLine, floor: number, colour: string, x: Scale, y: Scale): PlotLayer[] {
  const least = floor * FAR_BELOW;
  const rows = line.points.map((point) => ({
    intervalH: point.intervalH,
    estimate: Math.max(least, point.estimate),
    upper: Math.max(least, point.upper ?? 1),
  }));
  const stroke = { type: "line", clip: true, stroke: colour, strokeDash: line.dash } as const;
  return [
    plot(
      rows,
      { type: "area", clip: true, fill: colour, opacity: 0.11 },
      { x: x("intervalH"), y: y("estimate"), y2: { field: "upper" } },
    ),
    plot(rows, { ...stroke, strokeWidth: 0.9 }, { x: x("intervalH"), y: y("upper") }),
    plot(rows, { ...stroke, strokeWidth: 2.25 }, { x: x("intervalH"), y: y("estimate") }),
  ];
}

const SOLID = [1, 0];
const DASHED = [6, 3];

/** Risk of finding a component over the limit at an inspection; null where neither method gave one. */
export function overLimitChart(
  recommendation: Recommendation,
  acceptable: number,
  confidence: number,
  style: EnvironmentStyle,
): Chart | null {
  const { risks } = recommendation;
  return riskChart(recommendation, confidence, {
    id: "over-limit",
    name: "Over the limit per inspection",
    finding: "of looks find one over the limit",
    acceptable,
    colour: style.colour,
    lines: [
      line("from lives", SOLID, risks, (risk) => risk.overLimitPerInspection.life),
      line("from wear readings", DASHED, risks, (risk) => risk.overLimitPerInspection.wear),
    ],
  });
}

/** Risk that a component which reaches the limit becomes unsafe before it is seen; null without an unsafe-at limit. */
export function unsafeChart(
  recommendation: Recommendation,
  acceptable: number,
  confidence: number,
  style: EnvironmentStyle,
): Chart | null {
  return riskChart(recommendation, confidence, {
    id: "unsafe",
    name: "Unsafe before it is seen",
    finding: "of those that reach the limit turn unsafe unseen",
    acceptable,
    colour: style.colour,
    lines: [line("from wear readings", DASHED, recommendation.risks, (risk) => risk.unsafeBeforeSeen)],
  });
}

interface RiskKind extends Pick<RiskInput, "name" | "finding" | "acceptable" | "colour" | "lines"> {
  readonly id: string;
}

function riskChart(recommendation: Recommendation, confidence: number, kind: RiskKind): Chart | null {
  const lines = kind.lines.filter((one) => one.points.length > 0);
  if (lines.length === 0) return null;
  const { presentIntervalH: presentH, recommendedIntervalH, group } = recommendation;
  const input: RiskInput = {
    ...kind,
    lines,
    intervalsH: recommendation.risks.map((risk) => risk.intervalH),
    presentH,
    recommendedH: recommendedIntervalH === presentH ? null : recommendedIntervalH,
    observedToH: recommendation.observedToHours,
  };
  const hatched = input.observedToH === null || input.observedToH < Math.max(...input.intervalsH);
  return {
    id: chartId(kind.id, recommendation.slug),
    title: riskTitle(input, `${group.environment}, ${group.standard}`),
    spec: riskSpec(input),
    alt: riskInWords(input),
    caption:
      `Thick: best estimate. Thin: its one-sided upper bound at ${share(confidence)} confidence. ` +
      `${hatched ? "Hatched: longer than enough components were followed. " : ""}` +
      "Upright axis: a log scale, each step ten times the last.",
    columns: [
      { head: "Interval (h)", name: "interval_h", decimals: 0 },
      { head: "Evidence", name: "evidence" },
      { head: "Estimate (%)", name: "estimate_percent", decimals: 3 },
      { head: "Lower (%)", name: "lower_percent", decimals: 3, rounding: "down" },
      { head: "Upper (%)", name: "upper_percent", decimals: 3, rounding: "up" },
    ],
    rows: lines.flatMap((one) =>
      one.points.map((point): ChartCell[] => [
        point.intervalH,
        one.name,
        ...[point.estimate, point.lower, point.upper].map((value) => (value === null ? null : 100 * value)),
      ]),
    ),
  };
}
