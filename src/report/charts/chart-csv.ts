/** The numbers of a chart as a CSV: units in the headings, ten significant digits, cells inert in a spreadsheet. */
import { csvLine } from "../../records/csv-cell.ts";
import { published } from "../../units.ts";
import type { Chart } from "./chart.ts";

export const chartCsv = ({ columns, rows }: Pick<Chart, "columns" | "rows">): string =>
  [
    csvLine(columns.map((column) => column.name)),
    ...rows.map((row) => csvLine(row.map((cell) => (typeof cell === "number" ? published(cell) : cell)))),
  ].join("");
