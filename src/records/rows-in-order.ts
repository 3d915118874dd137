/** An export's rows by component in order of time, sorted once for all stages that go through them. */
import type { RowColumns } from "./exports.ts";
import { type RowsByNumber, rowsByNumber } from "./rows-by-number.ts";

interface DatedRows extends RowColumns {
  readonly component: Int32Array;
  readonly day: Int32Array;
  readonly hours: Float64Array;
}

const SORTED = new WeakMap<DatedRows, RowsByNumber>();

/** All looks, or all removals, of each component: by day, then hours, then row. @param components  how many there are */
export function rowsInOrder(rows: DatedRows, components: number): RowsByNumber {
  const known = SORTED.get(rows);
  if (known !== undefined) return known;
  const sorted = rowsByNumber(components, rows.component, rows.day, rows.hours);
  SORTED.set(rows, sorted);
  return sorted;
}
