/**
 * Lives and sums of their readings that were made elsewhere, in place of the wear export: the heavy part is a warehouse's,
 * the fits, bounds and rules are this program's. The SQL that makes them stands in data-samples/warehouse.
 */
import type { Fleet, FleetTables } from "../fleet/fleet.ts";
import { ExportError } from "../problems.ts";
import type { FileLedger, ReadExports } from "../records/exports.ts";
import type { Life } from "../records/life.ts";
import { type Day, isoDate } from "../units.ts";
import { lastLookRows } from "./last-look-rows.ts";
import { keyOf, LIFE_COLUMNS, LivesFromTables, SUM_COLUMNS, type Sums, sumsOf } from "./lives-from-tables.ts";
import { readTableFile, type TableFile } from "./read-table-file.ts";
import type { ExportSource } from "./source.ts";
import type { TableRow } from "./table-row.ts";

export interface ReadTables {
  /** The other exports, with the components of the tables, and each component's last look as its only wear row. */
  readonly exports: ReadExports;
  /** In order of component, life and piece. */
  readonly lives: readonly Life[];
  readonly exclusions: readonly [];
  /** The day up to which the tables were made. */
  readonly asOf: Day;
}

/** Reads both tables. Throws ExportError E-TABLE at the first cell that isn't as the guide says. */
export async function readLifeTables(
  fleet: Fleet & { readonly tables: FleetTables },
  source: ExportSource,
  read: ReadExports,
): Promise<ReadTables> {
  const sums = new Map<string, Sums>();
  const sumFiles = await readFiles(source, fleet.tables.sums, SUM_COLUMNS, (row) => {
    if (sums.has(keyOf(row))) row.refuse(null, "each piece of a life once", keyOf(row));
    sums.set(keyOf(row), sumsOf(row));
  });
  const building = new LivesFromTables(fleet, read, sums);
  // Files of the ledger: the other exports, lives, sums.
  const lifeFiles = await readFiles(source, fleet.tables.lives, LIFE_COLUMNS, (row, file) =>
    building.take(row, read.files.length + file),
  );
  const { lives, lastLooks, asOf } = building.done(fleet.tables.lives);
  const [unused] = sums.keys();
  if (unused !== undefined)
    throw new ExportError(
      "E-TABLE",
      `${fleet.tables.sums.join(", ")}: sums of ${unused}, which is no piece of the lives`,
    );
  const ledger = (kind: "lives" | "sums") => (file: TableFile) => ledgerOf(file, kind, asOf);
  const components = building.components();
  return {
    exports: {
      ...read,
      files: [...read.files, ...lifeFiles.map(ledger("lives")), ...sumFiles.map(ledger("sums"))],
      components,
      wear: lastLookRows(lastLooks),
      latestDay: lastLooks.reduce<Day | null>(
        (latest, { day }) => (latest === null || day > latest ? day : latest),
        read.latestDay,
      ),
    },
    lives,
    exclusions: [],
    asOf,
  };
}

async function readFiles(
  source: ExportSource,
  patterns: readonly string[],
  columns: readonly string[],
  take: (row: TableRow, file: number) => void,
): Promise<TableFile[]> {
  const files: TableFile[] = [];
  for (const path of await source.list(patterns))
    files.push(await readTableFile(source, path, columns, (row) => take(row, files.length)));
  return files;
}

function ledgerOf(
  { file, sha256, bytes, rows, format }: TableFile,
  kind: "lives" | "sums",
  asOf: Day,
): FileLedger {
  const headingLines = format === "CSV" ? 1 : 0;
  return {
    ...{ file, kind, sha256, bytes, exported: null },
    ...{ lines: rows + headingLines, headingLines, blankLines: 0, totalsLines: 0, rowLines: rows },
    ...{ read: rows, accepted: rows, rejected: 0, identical: 0, superseded: 0, unassigned: 0 },
    format: [`${format}, a table of ${kind} made elsewhere, up to ${isoDate(asOf)}`],
  };
}
