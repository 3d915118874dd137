/** Rows of one kind after conversion, before repeats are taken out: plain columns by name, and what became of each row. */
import type { ExportKind } from "../fleet/fleet.ts";

/** later: exported after the day that is asked about, so it does not count as read at all. */
export const ROW = { accepted: 0, rejected: 1, identical: 2, superseded: 3, later: 4 } as const;

export type NumberColumn = Int32Array | Int16Array | Float64Array | Uint8Array;

export interface ConvertedTable {
  readonly kind: ExportKind;
  readonly rows: number;
  /** One of ROW. */
  readonly state: Uint8Array;
  readonly file: Uint16Array;
  readonly line: Int32Array;
  readonly unassigned: Uint8Array;
  /** By the names of records/exports.ts, "component" included. */
  readonly columns: Readonly<Record<string, NumberColumn>>;
  /** Names that the codes of text columns stand for. */
  readonly words: Readonly<Record<string, readonly string[]>>;
  /** Day of export of each row; NO_DAY where unknown. */
  readonly exported: Int32Array;
}

/** What is still asked of rows once it is known what became of each. */
export type KeptRows = Pick<ConvertedTable, "rows" | "file" | "line" | "unassigned" | "columns" | "words">;

/**
 * Some of the rows, with codes of words in 16 bits where these are enough: other exports are read beside them. Removals keep
 * their day of export, by which one that came late is known.
 */
export function keptRows(
  { kind, words, exported, ...table }: ConvertedTable,
  keep: (row: number) => boolean,
): KeptRows {
  const columns = kind === "removals" ? { ...table.columns, exported } : table.columns;
  return rowsAt({ ...table, columns, words }, numbersOf(table.rows, keep), (column, name) => {
    const isShort = words[name] !== undefined && words[name].length < 2 ** 15;
    return isShort ? new Int16Array(column) : column;
  });
}

/** The rows that are kept, moved together; everything else about them unchanged. */
export function keepRows(table: KeptRows, keep: (row: number) => boolean): KeptRows {
  const kept = numbersOf(table.rows, keep);
  return kept.length === table.rows ? table : rowsAt(table, kept, (column) => column);
}

/** Numbers of the rows that are kept. */
function numbersOf(rows: number, keep: (row: number) => boolean): Int32Array {
  const kept = new Int32Array(rows);
  let count = 0;
  for (let row = 0; row < rows; row++) if (keep(row)) kept[count++] = row;
  return kept.subarray(0, count);
}

function rowsAt(
  { rows, file, line, unassigned, columns, words }: KeptRows,
  kept: Int32Array,
  map: (column: NumberColumn, name: string) => NumberColumn,
): KeptRows {
  const moved = <T extends NumberColumn | Uint16Array>(column: T): T =>
    kept.length === rows ? column : picked(column, kept);
  return {
    rows: kept.length,
    file: moved(file),
    line: moved(line),
    unassigned: moved(unassigned),
    columns: Object.fromEntries(
      Object.entries(columns).map(([name, column]) => [name, map(moved(column), name)]),
    ),
    words,
  };
}

/** A column's values at some rows, in a buffer of just their size. */
export function picked<T extends NumberColumn | Uint16Array>(column: T, rows: Int32Array): T {
  const out = column.slice(0, rows.length);
  for (let at = 0; at < rows.length; at++) out[at] = column[rows[at]!]!;
  return out as T;
}
