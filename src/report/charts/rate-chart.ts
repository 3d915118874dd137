/**
 * Wear rates of one part: a dot with its interval for each environment and standard, the ratio to the slowest group
 * written at the right, where a reader looks for it.
 */
import type { GroupResult } from "../../interval/month-result.ts";
import { fixed } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, plot } from "./layers.ts";
import { rateCaption, rateInWords, rateTitle } from "./rate-words.ts";
import { fitted as cutText, textWidthPx } from "./text-room.ts";
import { type EnvironmentStyle, INK, label, panel, QUIET, RULE, SMALL_PX, styleOf } from "./theme.ts";

const ROW_PX = 26;
/** Of the whole drawing: names at the left, ratios at the right, the rates between. */
const WIDTH_PX = 430;
const RIGHT_PX = 66;
const MOST_NAME_PX = 150;

export interface RateRow {
  /** "sandy, plain" */
  readonly group: string;
  readonly colour: string;
  /** mm per 1000 flight hours. */
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
  /** Rate over that of the slowest group; null where the fitted rate shows no rise. */
  readonly ratio: number | null;
  readonly ratioText: string;
  readonly components: number;
}

export interface UnfittedRow {
  readonly group: string;
  readonly why: string;
}

export interface RateInput {
  readonly fitted: readonly RateRow[];
  readonly unfitted: readonly UnfittedRow[];
}

const nameOf = (group: GroupResult): string => `${group.key.environment}, ${group.key.standard}`;

/** Fitted groups from the fastest to the slowest, then those without a fit. */
export function rateRows(
  groups: readonly GroupResult[],
  styles: ReadonlyMap<string, EnvironmentStyle>,
): RateInput {
  const slowest = groups.reduce(
    (least, group) => Math.min(least, positive(group.wear.fit?.ratePer1000H.estimate)),
    Number.POSITIVE_INFINITY,
  );
  const fitted = groups.flatMap((group): RateRow[] => {
    const rate = group.wear.fit?.ratePer1000H;
    if (rate === undefined) return [];
    const ratio = rate.estimate > 0 ? rate.estimate / slowest : null;
    return [
      {
        group: nameOf(group),
        colour: styleOf(styles, group.key.environment).colour,
        rate: rate.estimate,
        lower: rate.lower ?? rate.estimate,
        upper: rate.upper ?? rate.estimate,
        ratio,
        ratioText: ratioInWords(ratio, groups.length),
        components: group.components,
      },
    ];
  });
  fitted.sort((a, b) => b.rate - a.rate || (a.group < b.group ? -1 : 1));
  const unfitted = groups
    .filter((group) => group.wear.fit === null)
    .map((group) => ({ group: nameOf(group), why: `no fit: ${group.wear.why ?? "no readings"}` }));
  return { fitted, unfitted };
}

function ratioInWords(ratio: number | null, groups: number): string {
  if (ratio === null) return "no rise";
  if (ratio === 1) return groups === 1 ? "" : "slowest";
  return `${fixed(ratio, 1)} times`;
}

const positive = (rate: number | undefined): number =>
  rate !== undefined && rate > 0 ? rate : Number.POSITIVE_INFINITY;

export function rateSpec({ fitted, unfitted }: RateInput): LayeredSpec {
  const order = [...fitted, ...unfitted].map((row) => row.group);
  const nameRoomPx = Math.min(
    MOST_NAME_PX,
    10 + order.reduce((most, name) => Math.max(most, textWidthPx(name, SMALL_PX)), 30),
  );
  const plotPx = WIDTH_PX - nameRoomPx - RIGHT_PX;
  const top = fitted.reduce((most, row) => Math.max(most, row.upper), 0.01);
  const least = fitted.reduce((low, row) => Math.min(low, row.lower), 0);
  const x = onScale(
    { domain: [least, top * 1.04], nice: false },
    { title: "Wear rate (mm per 1000 flight hours)", tickCount: 5 },
  );
  const y = rowScale(order, nameRoomPx);
  const fill = { field: "colour", type: "nominal", scale: null, legend: null } as const;
  const said = unfitted.map((row) => ({
    group: row.group,
    why: cutText(row.why, plotPx + RIGHT_PX - 16, SMALL_PX),
  }));
  const ratio = { type: "text", align: "left", dx: 9, fill: INK } as const;
  return panel(
    [
      plot(
        fitted,
        { type: "rule", strokeWidth: 2 },
        { x: x("lower"), x2: { field: "upper" }, y, stroke: fill },
      ),
      plot(
        fitted,
        { type: "point", shape: "circle", filled: true, size: 60, opacity: 1 },
        { x: x("rate"), y, fill },
      ),
      plot(fitted, ratio, { x: { value: plotPx }, y, text: { field: "ratioText" } }),
      ...label(
        said,
        { align: "left", fill: QUIET, limit: 2 * WIDTH_PX },
        { x: { value: 8 }, y, text: { field: "why" } },
      ),
    ],
    {
      width: plotPx,
      height: Math.max(1, order.length) * ROW_PX,
      margin: { left: nameRoomPx, right: RIGHT_PX, top: 8 },
    },
  );
}

/** One row a group; names longer than their room are cut by the axis, so that two long ones stay two rows. */
function rowScale(order: readonly string[], nameRoomPx: number) {
  const most = Math.floor((nameRoomPx - 8) / textWidthPx("n", SMALL_PX));
  return {
    field: "group",
    type: "nominal",
    sort: null,
    scale: { domain: order, type: "point", padding: 0.5 },
    axis: {
      title: null,
      ticks: false,
      domain: false,
      grid: true,
      gridColor: RULE,
      labelLimit: 0,
      labelExpr: `length(datum.label) > ${most} ? slice(datum.label, 0, ${most - 1}) + '…' : datum.label`,
    },
  } as const;
}

/** The chart of one part's groups. */
export function rateChart(
  part: string,
  groups: readonly GroupResult[],
  styles: ReadonlyMap<string, EnvironmentStyle>,
): Chart {
  const input = rateRows(groups, styles);
  const byName = new Map(groups.map((group) => [nameOf(group), group]));
  return {
    id: chartId("rates", part),
    title: rateTitle(part, input),
    spec: rateSpec(input),
    alt: rateInWords(part, input, byName),
    caption: rateCaption(input),
    columns: [
      { head: "Environment, standard", name: "group" },
      { head: "Components", name: "components", decimals: 0 },
      { head: "Rate (mm per 1000 h)", name: "rate_mm_per_1000h", decimals: 3 },
      { head: "Lower", name: "lower_mm_per_1000h", decimals: 3 },
      { head: "Upper", name: "upper_mm_per_1000h", decimals: 3 },
      { head: "Times the slowest", name: "ratio_to_slowest", decimals: 2 },
      { head: "Remark", name: "remark" },
    ],
    rows: [
      ...input.fitted.map((row): ChartCell[] => {
        const rate = byName.get(row.group)?.wear.fit?.ratePer1000H;
        const bounds = [rate?.lower ?? null, rate?.upper ?? null];
        return [row.group, row.components, row.rate, ...bounds, row.ratio, ""];
      }),
      ...input.unfitted.map((row): ChartCell[] => [
        row.group,
        byName.get(row.group)?.components ?? 0,
        ...[null, null, null, null],
        row.why,
      ]),
    ],
  };
}
