/** The numbers of a chart as a CSV: units in the headings, ten significant digits, cells inert in a spreadsheet. */
import { csvTextOf } from "../files/csv-table.ts";
import type { Chart, ChartCell } from "./chart.ts";

export const chartCsv = ({ columns, rows }: Pick<Chart, "columns" | "rows">): string =>
  csvTextOf(
    rows,
    columns.map(({ name }, at) => ({
      head: name,
      value: (row: readonly ChartCell[]) => row[at] ?? null,
    })),
  );
