/**
 * The rows of one kind of export as they stand in the files: each cell a code into its column's distinct texts. Nothing
 * is converted yet, so that decimal marks and date orders can be decided on all texts of a column.
 */
import type { ExportSpec } from "../fleet/fleet.ts";
import { Dictionary } from "./dictionary.ts";
import { type MappedColumn, wantedColumns } from "./find-heading.ts";
import { GrowInt32, GrowUint16 } from "./growable.ts";

export type Role = MappedColumn["role"];

export interface RawColumn {
  readonly role: Role;
  readonly dictionary: Dictionary;
  readonly codes: GrowInt32;
}

export class RawTable {
  readonly file = new GrowUint16();
  readonly line = new GrowInt32();
  readonly columns: readonly RawColumn[];
  rows = 0;

  constructor(spec: ExportSpec) {
    this.columns = wantedColumns(spec).map(({ role }) => ({
      role,
      dictionary: new Dictionary(),
      codes: new GrowInt32(),
    }));
  }

  /** Adds a row. @param cells  the record's cells; @param at  cell number of each column, in the columns' order */
  push(file: number, line: number, cells: readonly string[], at: readonly number[]): void {
    for (let k = 0; k < at.length; k++) {
      const column = this.columns[k]!;
      column.codes.push(column.dictionary.code(cells[at[k]!]!.trim()));
    }
    this.file.push(file);
    this.line.push(line);
    this.rows++;
  }

  column(role: Role): RawColumn | null {
    return this.columns.find((column) => column.role === role) ?? null;
  }
}
