/**
 * Tables of recommendations, lives and watched components as the CSV files that a month publishes.
 *
 * Columns are typed, so that serials stay text and numbers numbers; cells that a spreadsheet would run are neutralised,
 * and numbers have 10 significant digits.
 */
import type { ColumnTable } from "arquero";
import { csvCell, csvLine } from "../../records/csv-cell.ts";
import { published } from "../../units.ts";

export type CsvValue = string | number | null;

/** A column: its heading, with the unit in it, and the value of each row. */
export interface CsvColumn<Row> {
  readonly head: string;
  readonly value: (row: Row) => CsvValue;
}

/** Rows as a table of columns, in the order given. Arquero is loaded when first needed: it takes a tenth of a second. */
export async function columnTable<Row>(
  rows: readonly Row[],
  columns: readonly CsvColumn<Row>[],
): Promise<ColumnTable> {
  const { table } = await import("arquero");
  return table(columns.map(({ head, value }) => [head, rows.map(value)]));
}

const writtenCell = (value: unknown): CsvValue => {
  if (value === null || value === undefined) return null;
  if (typeof value === "number") return published(value);
  return String(value);
};

/** A table as comma-separated text with a heading. */
export function csvText(columns: ColumnTable): string {
  const heads = columns.columnNames();
  const lines = [csvLine(heads)];
  columns.scan((row) => {
    lines.push(csvLine(heads.map((head) => writtenCell(columns.get(head, row ?? 0)))));
  }, true);
  return lines.join("");
}

/** The same text from rows as they come, for tables that are too long to be held as columns too: some lines at a time. */
export function* csvPieces<Row>(rows: Iterable<Row>, columns: readonly CsvColumn<Row>[]): Iterable<string> {
  let lines = [csvLine(columns.map(({ head }) => head))];
  let characters = 0;
  // Many a cell holds what stands above it, and is written already.
  const above: CsvValue[] = columns.map(() => null);
  const cells = columns.map(() => "");
  for (const row of rows) {
    for (let at = 0; at < columns.length; at++) {
      const value = columns[at]!.value(row);
      if (value === above[at]) continue;
      above[at] = value;
      cells[at] = csvCell(writtenCell(value));
    }
    const line = `${cells.join(",")}\n`;
    lines.push(line);
    characters += line.length;
    if (characters < PIECE_CHARACTERS) continue;
    yield lines.join("");
    lines = [];
    characters = 0;
  }
  if (lines.length > 0) yield lines.join("");
}

/** Large enough that a write costs little. */
const PIECE_CHARACTERS = 1 << 18;

/** The pieces put together. */
export const csvTextOf = <Row>(rows: Iterable<Row>, columns: readonly CsvColumn<Row>[]): string =>
  [...csvPieces(rows, columns)].join("");
