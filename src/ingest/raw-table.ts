/**
 * The rows of one kind of export as they stand in the files: each cell a code into its column's distinct texts. Nothing
 * is converted yet, so that decimal marks and date orders can be decided on all texts of a column.
 */
import type { ExportSpec } from "../fleet/fleet.ts";
import { ByteTexts, EMPTY, stringsOf } from "./byte-texts.ts";
import type { FileTexts, TextCodes } from "./file-texts.ts";
import { type MappedColumn, wantedColumns } from "./find-heading.ts";

export type Role = MappedColumn["role"];

/** A column of all files of a kind. */
export class RawColumn {
  readonly role: Role;
  readonly codes: Int32Array;
  readonly texts: readonly string[];

  constructor(role: Role, { codes, texts }: TextCodes) {
    this.role = role;
    this.codes = codes;
    this.texts = stringsOf(texts);
  }

  /** The text of a code; the empty text for EMPTY. */
  text(code: number): string {
    return code === EMPTY ? "" : this.texts[code]!;
  }
}

/** A file of the kind, and which rows are its. */
export interface FileReading extends Omit<FileTexts, "rows" | "line" | "columns" | "problems"> {
  readonly path: string;
  /** Rows of the raw table that came from this file: [firstRow, endRow). */
  readonly firstRow: number;
  readonly endRow: number;
}

export interface RawTable {
  readonly rows: number;
  /** Number in the ledger of each row's file. */
  readonly file: Uint16Array;
  readonly line: Int32Array;
  readonly files: readonly FileReading[];
  column(role: Role): RawColumn | null;
}

/**
 * Puts the files of a kind one after the other; codes are numbered anew in the order in which texts first stand there.
 *
 * @param firstFile  number in the ledger of the first file
 */
export function rawTable(
  spec: ExportSpec,
  read: readonly { readonly path: string; readonly texts: FileTexts }[],
  firstFile: number,
): RawTable {
  const rows = read.reduce((sum, { texts }) => sum + texts.rows, 0);
  const file = new Uint16Array(rows);
  const line = new Int32Array(rows);
  let firstRow = 0;
  const files = read.map(({ path, texts }, at) => {
    const { sha256, bytes, heading, counts, format } = texts;
    const endRow = firstRow + texts.rows;
    file.fill(firstFile + at, firstRow, endRow);
    line.set(texts.line, firstRow);
    const reading = { path, sha256, bytes, heading, counts, format, firstRow, endRow };
    firstRow = endRow;
    return reading;
  });
  const columns = wantedColumns(spec).map(
    ({ role }, k) =>
      new RawColumn(
        role,
        joined(
          rows,
          read.map(({ texts }) => texts.columns[k]!),
        ),
      ),
  );
  return {
    rows,
    file,
    line,
    files,
    column: (role) => columns.find((column) => column.role === role) ?? null,
  };
}

function joined(rows: number, files: readonly TextCodes[]): TextCodes {
  const [only, ...others] = files;
  if (only !== undefined && others.length === 0) return only;
  const codes = new Int32Array(rows);
  const all = new ByteTexts();
  let at = 0;
  for (const file of files) {
    const { bytes, ends } = file.texts;
    const becomes = Int32Array.from(ends, (end, k) => all.code(bytes, k === 0 ? 0 : ends[k - 1]!, end));
    for (const code of file.codes) codes[at++] = code === EMPTY ? EMPTY : becomes[code]!;
  }
  return { codes, texts: all.takeNew() };
}
