/** Lines of exports that faults can be planted in, and what is said of a planted fault. */
import type { ProblemCode } from "../problems.ts";

/** A line of an export that may be changed; `end` overrides the dialect's line end. */
export interface PlantedLine {
  text: string;
  end?: string;
}

export interface PlantedSheet {
  readonly path: string;
  readonly delimiter: string;
  readonly lines: PlantedLine[];
  byteOrderMark: boolean;
}

/** A fault before the lines have their last numbers. */
export interface Planting {
  readonly sheet: PlantedSheet;
  /** The first line concerned; null: the whole file. */
  readonly line: PlantedLine | null;
  readonly rows: number;
  readonly planted: string;
  readonly expected: string;
  readonly code: ProblemCode | null;
}

export interface PlantedFault {
  readonly number: number;
  readonly file: string;
  /** Physical line, from 1. */
  readonly line: number;
  /** How many rows it concerns. */
  readonly rows: number;
  readonly planted: string;
  readonly expected: string;
  /** The stable code that the program gives it, where it refuses or remarks. */
  readonly code: ProblemCode | null;
}

/** The sheet with this path. */
export function sheetAt(sheets: readonly PlantedSheet[], path: string): PlantedSheet {
  const sheet = sheets.find((candidate) => candidate.path === path);
  if (sheet === undefined) throw new Error(`no export ${path} to plant a fault in`);
  return sheet;
}

/** Put a line into a sheet, after another. */
export function insertAfter(sheet: PlantedSheet, after: PlantedLine, text: string): PlantedLine {
  const line = { text };
  sheet.lines.splice(sheet.lines.indexOf(after) + 1, 0, line);
  return line;
}

/** Change one cell of an unquoted line. */
export function setCell(sheet: PlantedSheet, line: PlantedLine, column: number, cell: string): void {
  const cells = line.text.split(sheet.delimiter);
  cells[column] = cell;
  line.text = cells.join(sheet.delimiter);
}
