/**
 * Wear rates of one part: a dot with its interval for each environment and standard, the ratio to the slowest group
 * written at the right, where a reader looks for it.
 */
import type { GroupResult } from "../../interval/month-result.ts";
import { boundedRate, fixed, listed } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, plot } from "./layers.ts";
import { type EnvironmentStyle, INK, label, panel, QUIET, RULE, SMALL_PX, styleOf } from "./theme.ts";

const ROW_PX = 34;
const WIDTH_PX = 430;
const LEFT_PX = 150;
const RIGHT_PX = 92;

export interface RateRow {
  /** "sandy, plain" */
  readonly group: string;
  readonly colour: string;
  /** mm per 1000 flight hours. */
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
  /** Rate over that of the slowest group. */
  readonly ratio: number;
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
    const ratio = slowest === Number.POSITIVE_INFINITY ? 1 : rate.estimate / slowest;
    return [
      {
        group: nameOf(group),
        colour: styleOf(styles, group.key.environment).colour,
        rate: rate.estimate,
        lower: rate.lower ?? rate.estimate,
        upper: rate.upper ?? rate.estimate,
        ratio,
        ratioText: ratio === 1 ? "slowest" : `${fixed(ratio, 1)} times`,
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

const positive = (rate: number | undefined): number =>
  rate !== undefined && rate > 0 ? rate : Number.POSITIVE_INFINITY;

export function rateSpec({ fitted, unfitted }: RateInput): LayeredSpec {
  const order = [...fitted, ...unfitted].map((row) => row.group);
  const top = fitted.reduce((most, row) => Math.max(most, row.upper), 0.01);
  const least = fitted.reduce((low, row) => Math.min(low, row.lower), 0);
  const x = onScale(
    { domain: [least, top * 1.04], nice: false },
    { title: "Wear rate (mm per 1000 flight hours)", tickCount: 6 },
  );
  const y = {
    field: "group",
    type: "nominal",
    sort: null,
    scale: { domain: order, type: "point", padding: 0.5 },
    axis: { title: null, ticks: false, domain: false, grid: true, gridColor: RULE, labelLimit: LEFT_PX - 8 },
  } as const;
  const fill = { field: "colour", type: "nominal", scale: null, legend: null } as const;
  return panel(
    [
      plot(
        fitted,
        { type: "rule", strokeWidth: 2 },
        {
          x: x("lower"),
          x2: { field: "upper" },
          y,
          stroke: { field: "colour", type: "nominal", scale: null, legend: null },
        },
      ),
      plot(
        fitted,
        { type: "point", shape: "circle", filled: true, size: 70, opacity: 1 },
        { x: x("rate"), y, fill },
      ),
      plot(
        fitted,
        { type: "text", align: "left", dx: 10, fontSize: SMALL_PX + 1, fill: INK },
        {
          x: { value: WIDTH_PX },
          y,
          text: { field: "ratioText" },
        },
      ),
      ...label(
        unfitted,
        { align: "left", fill: QUIET, limit: WIDTH_PX + RIGHT_PX - 12 },
        {
          x: { value: 8 },
          y,
          text: { field: "why" },
        },
      ),
    ],
    {
      width: WIDTH_PX,
      height: Math.max(1, order.length) * ROW_PX,
      margin: { left: LEFT_PX, right: RIGHT_PX, top: 8 },
    },
  );
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
    caption:
      "Dot: rate of the group. Line: its bounds. At the right: rate over that of the slowest group, without bounds; " +
      "groups flown by other aircraft can differ for other reasons than place and ring.",
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

function rateTitle(part: string, { fitted }: RateInput): string {
  const fastest = fitted[0];
  const slowest = fitted.at(-1);
  if (fastest === undefined || slowest === undefined) return `${part}: no group has a wear rate yet`;
  if (fastest === slowest) return `${part}: ${fastest.group} wears ${fixed(fastest.rate, 2)} mm per 1000 h`;
  return `${part}: ${fastest.group} wears ${fixed(fastest.ratio, 1)} times as fast as ${slowest.group}`;
}

function rateInWords(part: string, input: RateInput, byName: ReadonlyMap<string, GroupResult>): string {
  const rates = input.fitted.map((row) => {
    const rate = byName.get(row.group)?.wear.fit?.ratePer1000H;
    return `${row.group} ${rate === undefined ? "" : boundedRate(rate)}`;
  });
  const without = input.unfitted.map((row) => row.group);
  const said = rates.length === 0 ? "no group has a fit" : listed(rates);
  const missing = without.length === 0 ? "" : ` Without a fit: ${listed(without)}.`;
  return `Wear rates of the ${part} in mm per 1000 flight hours, fastest first: ${said}.${missing}`;
}
