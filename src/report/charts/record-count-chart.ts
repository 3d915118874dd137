/** Over-limit finds added up month by month: as predicted by one line of evidence, with chance's own band, and as found. */
import type { Method, MonthlyCount } from "../../replay/record-result.ts";
import { counted, monthName, whole } from "../number-format.ts";
import { methodName, predictedCount } from "../record-words.ts";
import type { Chart, ChartCell } from "./chart.ts";
import { onScale, plot } from "./layers.ts";
import { apart } from "./text-room.ts";
import { INK, label, PANEL, panel, QUIET } from "./theme.ts";

interface CountRow {
  readonly month: string;
  readonly looks: number;
  readonly predicted: number;
  readonly low: number;
  readonly high: number;
  readonly found: number;
}

/** 95 of 100 counts that are sums of many small chances lie within so many standard deviations. */
const DEVIATIONS = 1.96;

/** Running sums of one method's months. */
export function countRows(monthly: readonly MonthlyCount[], method: Method): CountRow[] {
  let [looks, predicted, variance, found] = [0, 0, 0, 0];
  return monthly
    .filter((one) => one.method === method)
    .map((one) => {
      looks += one.looks;
      predicted += one.predicted;
      variance += one.variance;
      found += one.found;
      const reach = DEVIATIONS * Math.sqrt(variance);
      return {
        ...{ month: one.month, looks, predicted, found },
        low: Math.max(0, predicted - reach),
        high: predicted + reach,
      };
    });
}

/** The chart of one method; null without a month. */
export function recordCountChart(monthly: readonly MonthlyCount[], method: Method): Chart | null {
  const rows = countRows(monthly, method);
  const last = rows.at(-1);
  if (last === undefined) return null;
  const top = 1.08 * rows.reduce((most, row) => Math.max(most, row.high, row.found), 1);
  const months = rows.map(({ month }) => month);
  const x = {
    field: "month",
    type: "ordinal",
    sort: null,
    scale: { domain: months, type: "point", padding: 0.6 },
    axis: {
      title: "Month of the looks",
      values: months.length > 8 ? months.filter((month) => /-(01|04|07|10)$/.test(month)) : months,
      labelExpr:
        "slice(datum.value, 5) == '01' ? slice(datum.value, 0, 4) : slice(datum.value, 2, 4) + '-' + slice(datum.value, 5)",
      labelAngle: 0,
    },
  } as const;
  const y = onScale(
    { domain: [0, top], nice: false },
    { title: "Finds over the limit, added up", tickCount: 5 },
  );
  const height = (value: number) => PANEL.height * (1 - value / top);
  // Each name on the far side of its own line, so that neither stands on the other.
  const foundIsUpper = last.found > last.predicted;
  const beside = (value: number, isUpper: boolean) => height(value) + (isUpper ? -16 : 18);
  const names = apart(
    [
      { name: "found", colour: INK, y: beside(last.found, foundIsUpper) },
      { name: "predicted", colour: QUIET, y: beside(last.predicted, !foundIsUpper) },
    ],
    15,
    PANEL.height - 6,
  );
  const what = `${counted(last.looks, "look")}: ${predictedCount(last.predicted)} finds predicted from ${methodName(method)}, ${whole(last.found)} found`;
  return {
    id: `record-${method}`,
    title: `From ${methodName(method)}: ${predictedCount(last.predicted)} predicted, ${whole(last.found)} found`,
    spec: panel([
      plot(rows, { type: "area", fill: QUIET, opacity: 0.18 }, { x, y: y("low"), y2: { field: "high" } }),
      plot(
        rows,
        { type: "line", stroke: QUIET, strokeWidth: 1.5, strokeDash: [6, 3] },
        { x, y: y("predicted") },
      ),
      plot(rows, { type: "line", stroke: INK, strokeWidth: 1.75 }, { x, y: y("found") }),
      plot(
        rows,
        { type: "point", shape: "circle", filled: true, size: 18, opacity: 1, fill: INK },
        { x, y: y("found") },
      ),
      ...names.flatMap((end) =>
        label(
          [end],
          { align: "right", fontWeight: 600, fill: end.colour },
          { x: { value: PANEL.width - 4 }, y: { value: end.y }, text: { field: "name" } },
        ),
      ),
    ]),
    alt: `Running sums from ${monthName(rows[0]!.month)} to ${monthName(last.month)}, ${what}; 95 of 100 counts would lie from ${predictedCount(last.low)} to ${predictedCount(last.high)} if the chances were right.`,
    caption: `Each look once, with its chance by the line of the month-end that its six months begin with. Band: where 95 of 100 counts lie if the chances are right (normal approximation).`,
    columns: [
      { head: "Month", name: "month" },
      { head: "Looks so far", name: "looks", decimals: 0 },
      { head: "Predicted", name: "predicted", decimals: 1 },
      { head: "Band from", name: "band_from", decimals: 1 },
      { head: "Band to", name: "band_to", decimals: 1 },
      { head: "Found", name: "found", decimals: 0 },
    ],
    rows: rows.map((row): ChartCell[] => [row.month, row.looks, row.predicted, row.low, row.high, row.found]),
  };
}
