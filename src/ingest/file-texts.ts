/**
 * What one export file says, before anything is made of it: its rows as codes into the distinct texts of each column,
 * with lines, heading and the rows that can't be read. It depends on the file's bytes and on `readingSettings` alone (not
 * on its name, on other files or on what a text means), so that it can be read by any thread and be kept by its hash.
 */
import type { ExportSpec } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import type { PackedTexts } from "./byte-texts.ts";
import type { Heading } from "./find-heading.ts";

/** Every physical line is in one of these; read is rows, some of several lines. */
export interface LineCounts {
  lines: number;
  headingLines: number;
  blankLines: number;
  totalsLines: number;
  rowLines: number;
  read: number;
  rejected: number;
}

/** A refused row; the file's name is added where the problem is told. */
export type LineProblem = Omit<RowProblem, "file">;

/** A column: a code for each row (EMPTY: no text), numbered in the order in which the texts first stand in the file. */
export interface TextCodes {
  readonly codes: Int32Array;
  readonly texts: PackedTexts;
}

export interface FileTexts {
  readonly sha256: string;
  readonly bytes: number;
  readonly heading: Heading;
  readonly counts: LineCounts;
  readonly rows: number;
  /** Physical line of each row. */
  readonly line: Int32Array;
  /** In the order of the heading's columns. */
  readonly columns: readonly TextCodes[];
  /** What was detected about encoding, lines and heading, with its evidence. */
  readonly format: readonly string[];
  /** In order of lines. */
  readonly problems: readonly LineProblem[];
}

/** Counts of nothing yet. */
export const noCounts = (): LineCounts => ({
  lines: 0,
  headingLines: 0,
  blankLines: 0,
  totalsLines: 0,
  rowLines: 0,
  read: 0,
  rejected: 0,
});

/** All of an export's settings that decide what its files' texts are; names and days of export, clocks and words don't. */
export function readingSettings(spec: ExportSpec): string {
  const { kind, columns, unit, format, exported } = spec;
  const exportedColumn = exported?.from === "column" ? exported.column : null;
  const { delimiter, encoding } = format;
  return JSON.stringify({
    kind,
    columns: Object.entries(columns),
    unit,
    delimiter,
    encoding,
    exportedColumn,
  });
}
