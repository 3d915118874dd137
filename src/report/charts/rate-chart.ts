/**
 * Wear rates of one part: a dot with its interval for each environment and standard, the ratio to the slowest group
 * written at the right, where a reader looks for it.
 */
import type { GroupResult } from "../../interval/month-result.ts";
import type { RateComparison } from "../../interval/rate-comparison.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, plot } from "./layers.ts";
import { nameOf, type RateInput, rateRows } from "./rate-rows.ts";
import { rateCaption, rateInWords, rateTitle } from "./rate-words.ts";
import { fitted as cutText, textWidthPx } from "./text-room.ts";
import { CHART_WIDTH_PX, type EnvironmentStyle, INK, label, panel, QUIET, RULE, SMALL_PX } from "./theme.ts";

const ROW_PX = 26;
/** Of the whole drawing: names at the left, ratios at the right, the rates between. */

const RIGHT_PX = 70;
/** With bounds: "12.4× (10.1–14.8)". */
const BOUNDED_RIGHT_PX = 122;
const MOST_NAME_PX = 150;

/** The drawing of one part's rates. */
export function rateSpec({ adjusted, fitted, unfitted }: RateInput): LayeredSpec {
  const order = [...fitted, ...unfitted].map((row) => row.group);
  const nameRoomPx = Math.min(
    MOST_NAME_PX,
    10 + order.reduce((most, name) => Math.max(most, textWidthPx(name, SMALL_PX)), 30),
  );
  const rightPx = adjusted ? BOUNDED_RIGHT_PX : RIGHT_PX;
  const plotPx = CHART_WIDTH_PX - nameRoomPx - rightPx;
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
    why: cutText(row.why, plotPx + rightPx - 16, SMALL_PX),
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
        { align: "left", fill: QUIET, limit: 2 * CHART_WIDTH_PX },
        { x: { value: 8 }, y, text: { field: "why" } },
      ),
    ],
    {
      width: plotPx,
      height: Math.max(1, order.length) * ROW_PX,
      margin: { left: nameRoomPx, right: rightPx, top: 8 },
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
  comparison: RateComparison | null,
): Chart {
  const input = rateRows(groups, styles, comparison);
  const byName = new Map(groups.map((group) => [nameOf(group), group]));
  return {
    id: chartId("rates", part),
    title: rateTitle(part, input),
    spec: rateSpec(input),
    alt: rateInWords(part, input),
    caption: rateCaption(input),
    columns: [
      { head: "Environment, standard", name: "group" },
      { head: "Components", name: "components", decimals: 0 },
      { head: "Rate (mm per 1000 h)", name: "rate_mm_per_1000h", decimals: 3 },
      { head: "Lower", name: "lower_mm_per_1000h", decimals: 3, rounding: "down" },
      { head: "Upper", name: "upper_mm_per_1000h", decimals: 3, rounding: "up" },
      { head: "Times the slowest", name: "ratio_to_slowest", decimals: 2 },
      { head: "Lower", name: "ratio_lower", decimals: 2, rounding: "down" },
      { head: "Upper", name: "ratio_upper", decimals: 2, rounding: "up" },
      { head: "Own fit (mm per 1000 h)", name: "own_rate_mm_per_1000h", decimals: 3 },
      { head: "Remark", name: "remark" },
    ],
    rows: [
      ...input.fitted.map((row): ChartCell[] => {
        const own = byName.get(row.group)?.wear.fit?.ratePer1000H.estimate ?? null;
        const ratio = [row.ratio, row.ratioLower, row.ratioUpper];
        return [row.group, row.components, row.rate, row.lower, row.upper, ...ratio, own, ""];
      }),
      ...input.unfitted.map((row): ChartCell[] => [
        row.group,
        byName.get(row.group)?.components ?? 0,
        ...[null, null, null, null, null, null],
        byName.get(row.group)?.wear.fit?.ratePer1000H.estimate ?? null,
        row.why,
      ]),
    ],
  };
}
