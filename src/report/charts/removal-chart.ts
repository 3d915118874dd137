/**
 * Unscheduled removals of one part in one environment, month by month: rate per 1000 flight hours with exact limits as
 * a band, the alert level as a stepped line, and months over it marked and named.
 */
import type { RemovalTrend } from "../../interval/removal-findings.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, plot } from "./layers.ts";
import { removalCaption, removalInWords, removalTitle } from "./removal-words.ts";
import { type EnvironmentStyle, INK, label, panel, QUIET, SMALL_PX } from "./theme.ts";

export interface RemovalRow {
  readonly month: string;
  /** Months joined by a line: a month without flying breaks it. */
  readonly run: number;
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
  /** Count of the alert level as a rate at the month's hours; null: no level yet. */
  readonly alertRate: number | null;
  readonly over: boolean;
}

export interface RemovalInput {
  readonly months: readonly string[];
  readonly rows: readonly RemovalRow[];
  readonly top: number;
  readonly label: string;
  readonly style: EnvironmentStyle;
}

/** The months of a trend as the chart draws them. */
export function removalRows(trend: RemovalTrend): RemovalRow[] {
  let run = 0;
  return trend.months.flatMap((month): RemovalRow[] => {
    if (month.per1000H === null) {
      run += 1;
      return [];
    }
    const { estimate, lower, upper } = month.per1000H;
    const alertRate = month.alertCount === null ? null : (1000 * month.alertCount) / month.flightHours;
    return [
      {
        month: month.month,
        run,
        rate: estimate,
        lower: lower ?? 0,
        upper: upper ?? estimate,
        alertRate,
        over: month.over,
      },
    ];
  });
}

/** Top of the axis for the trends of one part: every rate and alert level fits; a wide limit may run out of it. */
export const removalTop = (trends: readonly RemovalTrend[]): number =>
  trends
    .flatMap(removalRows)
    .reduce((top, row) => Math.max(top, 1.3 * row.rate, 1.15 * (row.alertRate ?? 0)), 1);

/** Years by their number at January; July between them where the months leave room. */
const monthLabel = (months: number): string => {
  const between = months <= MOST_MONTHS_WITH_JULY ? "slice(datum.value, 5) == '07' ? 'July' : ''" : "''";
  return `slice(datum.value, 5) == '01' ? slice(datum.value, 0, 4) : ${between}`;
};
const MOST_MONTHS_WITH_JULY = 48;

/** The drawing of one part's removals in one environment. */
export function removalSpec({ months, rows, top, label: name, style }: RemovalInput): LayeredSpec {
  const x = {
    field: "month",
    type: "ordinal",
    sort: null,
    scale: { domain: months, type: "point", padding: 0.6 },
    axis: {
      title: "Month",
      values: months.filter((month) => /-(01|04|07|10)$/.test(month)),
      labelExpr: monthLabel(months.length),
      labelAngle: 0,
      labelOverlap: false,
    },
  } as const;
  const y = onScale(
    { domain: [0, top], nice: false },
    { title: "Unscheduled removals per 1000 flight hours", tickCount: 5 },
  );
  const detail = { field: "run", type: "nominal" } as const;
  const levels = rows.flatMap((row) =>
    row.alertRate === null ? [] : [{ ...row, alertRate: row.alertRate }],
  );
  const over = rows.filter((row) => row.over).map((row) => ({ ...row, label: "over" }));
  const named = levelToName(months, levels, over);
  return panel([
    plot(
      rows,
      { type: "area", clip: true, fill: style.colour, opacity: 0.15 },
      {
        x,
        y: y("lower"),
        y2: { field: "upper" },
        detail,
      },
    ),
    plot(
      levels,
      { type: "line", interpolate: "step", stroke: INK, strokeWidth: 1, strokeDash: [6, 3] },
      {
        x,
        y: y("alertRate"),
        detail,
      },
    ),
    plot(
      rows,
      { type: "line", stroke: style.colour, strokeWidth: 1.5, strokeDash: style.dash },
      {
        x,
        y: y("rate"),
        detail,
      },
    ),
    plot(
      rows,
      { type: "point", shape: "circle", filled: true, size: 18, opacity: 1, fill: style.colour },
      {
        x,
        y: y("rate"),
      },
    ),
    plot(
      over,
      { type: "point", shape: "diamond", filled: true, size: 85, opacity: 1, fill: INK },
      {
        x,
        y: y("rate"),
      },
    ),
    ...label(over, { dy: -11, fontWeight: 600 }, { x, y: y("rate"), text: { field: "label" } }),
    ...label(
      named.map(({ level }) => ({ ...level, label: "alert level" })),
      {
        ...(named[0]?.atEnd ? AT_END : AT_START),
        baseline: "bottom",
        dy: -4,
        fill: QUIET,
        fontSize: SMALL_PX,
      },
      {
        x,
        y: y("alertRate"),
        text: { field: "label" },
      },
    ),
    ...label(
      [{ name }],
      { align: "left", fill: style.colour, fontWeight: 600 },
      {
        x: { value: 6 },
        y: { value: 6 },
        text: { field: "name" },
      },
    ),
  ]);
}

const AT_START = { align: "left", dx: -4 } as const;
const AT_END = { align: "right", dx: 4 } as const;

/** Share of the panel that the words "alert level", and half of "over" beside them, are as wide as. */
const NAME_SHARE = 0.2;

/**
 * The level that is named: the first one, or the last where a month marked as over stands under the first one's words and
 * none under the last one's.
 */
function levelToName<Level extends Pick<RemovalRow, "month">>(
  months: readonly string[],
  levels: readonly Level[],
  over: readonly Pick<RemovalRow, "month">[],
): readonly { readonly level: Level; readonly atEnd: boolean }[] {
  const [first, last] = [levels[0], levels.at(-1)];
  if (first === undefined || last === undefined) return [];
  const placeOf = ({ month }: Pick<RemovalRow, "month">) => months.indexOf(month);
  const wide = Math.ceil(NAME_SHARE * months.length);
  const isUnder = (from: number) => over.some((row) => placeOf(row) >= from && placeOf(row) <= from + wide);
  const atEnd = isUnder(placeOf(first) - 1) && !isUnder(placeOf(last) - wide);
  return [{ level: atEnd ? last : first, atEnd }];
}

/** The chart of one trend; `top` is shared by the panels of a part. */
export function removalChart(
  trend: RemovalTrend,
  top: number,
  style: EnvironmentStyle,
  confidence: number,
): Chart {
  const rows = removalRows(trend);
  const months = trend.months.map((month) => month.month);
  return {
    id: chartId("removals", trend.part, trend.environment),
    title: removalTitle(trend),
    spec: removalSpec({ months, rows, top, label: trend.environment, style }),
    alt: removalInWords(trend, rows),
    caption: removalCaption(trend, confidence),
    columns: [
      { head: "Month", name: "month" },
      { head: "Flight hours", name: "flight_hours", decimals: 0 },
      { head: "Removals", name: "removals", decimals: 0 },
      { head: "Unscheduled", name: "unscheduled", decimals: 0 },
      { head: "Per 1000 h", name: "unscheduled_per_1000h", decimals: 2 },
      { head: "Lower", name: "lower_per_1000h", decimals: 2, rounding: "down" },
      { head: "Upper", name: "upper_per_1000h", decimals: 2, rounding: "up" },
      { head: "Alert at", name: "alert_count", decimals: 0 },
      { head: "Over", name: "over" },
    ],
    rows: trend.months.map((month): ChartCell[] => [
      month.month,
      month.flightHours,
      month.removals,
      month.unscheduled,
      month.per1000H?.estimate ?? null,
      month.per1000H?.lower ?? null,
      month.per1000H?.upper ?? null,
      month.alertCount,
      month.over ? "over" : "",
    ]),
  };
}
