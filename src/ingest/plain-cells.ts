import { EMPTY } from "./byte-texts.ts";
import { CELL, type CodeTable } from "./code-table.ts";
import type { NumberColumn } from "./converted-table.ts";
import type { ColumnPlan } from "./kinds.ts";
import type { FileReading } from "./raw-table.ts";

/** A column on its way, as far as plain cells need it. */
export interface PlainColumn {
  readonly plan: ColumnPlan;
  /** null: the export has no such column. */
  readonly codes: Int32Array | null;
  /** Table for each file of the kind; none for a column of text. */
  readonly tables: readonly CodeTable[];
  readonly out: NumberColumn;
}

/** Converts the cells of a column that nothing is to be said about; the rows that hold another are marked as odd. */
export function convertPlain(
  { plan, codes, tables, out }: PlainColumn,
  files: readonly FileReading[],
  odd: Uint8Array,
): void {
  const emptyIsOdd = plan.required || plan.emptyIsUnknown;
  if (codes === null || (plan.type === "text" && !emptyIsOdd)) return;
  for (const [at, { firstRow, endRow }] of files.entries()) {
    const table = tables[at] ?? null;
    for (let row = firstRow; row < endRow; row++) {
      const code = codes[row]!;
      if (code === EMPTY) {
        if (emptyIsOdd) odd[row] = 1;
      } else if (table !== null) {
        if (table.status[code] === CELL.ok) out[row] = table.value[code]!;
        else odd[row] = 1;
      }
    }
  }
}
