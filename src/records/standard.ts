/** The hardware standard that a row records. */
import { type TextColumn, wordAt } from "./exports.ts";
import { SINGLE_STANDARD, UNASSIGNED } from "./words.ts";

/**
 * The standard of a row. Where the cell is empty: a fleet whose file knows no standard has a single one; in a fleet that
 * tells standards apart the row is unassigned.
 */
export function standardAt(column: TextColumn, row: number): string {
  const recorded = wordAt(column, row);
  if (recorded !== null) return recorded;
  return column.words.every((word) => word === UNASSIGNED) ? SINGLE_STANDARD : UNASSIGNED;
}
