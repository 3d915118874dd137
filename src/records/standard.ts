/** The hardware standard that a row records. */
import { type TextColumn, wordAt } from "./exports.ts";
import { SINGLE_STANDARD, UNASSIGNED } from "./words.ts";

/**
 * The standard of a row. Where the cell is empty: a fleet whose file knows no standard has a single one; in a fleet that
 * tells standards apart the row is unassigned.
 */
export const standardAt = (column: TextColumn, row: number): string =>
  wordAt(column, row) ?? (column.words.every((word) => word === UNASSIGNED) ? SINGLE_STANDARD : UNASSIGNED);
