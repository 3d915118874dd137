/** Rows that count to the columns that lives, wear and trend see, component numbers final. */
import type {
  FlyingRows,
  GapRows,
  InstalledRows,
  RemovalRows,
  RowColumns,
  TextColumn,
  WearRows,
} from "../records/exports.ts";
import { type KeptRows, keepRows } from "./converted-table.ts";

/**
 * Renumbers components to those of known parts and leaves out the rows of the others (they stay in the ledger, as
 * unassigned).
 */
export function withKnownComponents(table: KeptRows, place: Int32Array): KeptRows {
  const column = table.columns.component as Int32Array | undefined;
  if (column === undefined) return table;
  const kept = keepRows(table, (row) => column[row] === -1 || place[column[row]!] !== -1);
  const component = kept.columns.component as Int32Array;
  for (let row = 0; row < kept.rows; row++)
    if (component[row] !== -1) component[row] = place[component[row]!]!;
  return kept;
}

const text = (table: KeptRows, name: string): TextColumn => ({
  codes: table.columns[name] as TextColumn["codes"],
  words: table.words[name]!,
});

const ints = (table: KeptRows, name: string): Int32Array => table.columns[name] as Int32Array;
const floats = (table: KeptRows, name: string): Float64Array => table.columns[name] as Float64Array;
const bytes = (table: KeptRows, name: string): Uint8Array => table.columns[name] as Uint8Array;

function rowColumns(table: KeptRows): RowColumns {
  const { rows, file, line, unassigned } = table;
  return { rows, file, line, unassigned };
}

/** The converted table as wear rows. */
export const wearRows = (table: KeptRows): WearRows => ({
  ...rowColumns(table),
  component: ints(table, "component"),
  day: ints(table, "day"),
  hours: floats(table, "hours"),
  wearMm: floats(table, "wearMm"),
  look: bytes(table, "look"),
  aircraft: text(table, "aircraft"),
  position: text(table, "position"),
  environment: text(table, "environment"),
  standard: text(table, "standard"),
  partNumber: text(table, "partNumber"),
});

/** The converted table as rows of seal gaps. */
export const gapRows = (table: KeptRows): GapRows => ({
  ...rowColumns(table),
  component: ints(table, "component"),
  day: ints(table, "day"),
  hours: floats(table, "hours"),
  gapMm: floats(table, "gapMm"),
  state: bytes(table, "state"),
  aircraft: text(table, "aircraft"),
  position: text(table, "position"),
  standard: text(table, "standard"),
});

/** The converted table as removal rows. */
export const removalRows = (table: KeptRows): RemovalRows => ({
  ...rowColumns(table),
  component: ints(table, "component"),
  day: ints(table, "day"),
  hours: floats(table, "hours"),
  mode: text(table, "mode"),
  cause: text(table, "cause"),
  found: bytes(table, "found"),
  finding: bytes(table, "finding"),
  exported: ints(table, "exported"),
  aircraft: text(table, "aircraft"),
  position: text(table, "position"),
  environment: text(table, "environment"),
  standard: text(table, "standard"),
});

/** The converted table as removal rows, those of parts that the fleet file doesn't know without a component. */
export function removalsOfAnyPart(table: KeptRows, place: Int32Array): RemovalRows {
  const component = (table.columns.component as Int32Array).map((number) => place[number] ?? -1);
  return removalRows({ ...table, columns: { ...table.columns, component } });
}

/** The converted table as the roster. */
export const installedRows = (table: KeptRows): InstalledRows => ({
  ...rowColumns(table),
  component: ints(table, "component"),
  installedOn: ints(table, "installedOn"),
  hoursAtInstallation: floats(table, "hoursAtInstallation"),
  hoursNow: floats(table, "hoursNow"),
  aircraft: text(table, "aircraft"),
  position: text(table, "position"),
  environment: text(table, "environment"),
  standard: text(table, "standard"),
});

/** The converted table as rows of hours flown. */
export const flyingRows = (table: KeptRows): FlyingRows => ({
  ...rowColumns(table),
  month: ints(table, "month"),
  aircraft: text(table, "aircraft"),
  environment: text(table, "environment"),
  hours: floats(table, "hours"),
});
