/** The rows of one component with the values that were used, whichever export they came from. */
import {
  FINDING,
  FOUND_AT,
  LOOK,
  type ReadExports,
  type RowColumns,
  type TextColumn,
  wordAt,
} from "../records/exports.ts";
import { isoDate } from "../units.ts";

export interface TracedRow {
  readonly kind: "wear" | "gaps" | "removals" | "installed";
  readonly file: string;
  readonly line: number;
  readonly day: string;
  /** Name of a value → what was used, with its unit. */
  readonly used: Readonly<Record<string, string>>;
}

const wordsOf = (columns: Readonly<Record<string, TextColumn>>, row: number): Record<string, string> =>
  Object.fromEntries(
    Object.entries(columns).flatMap(([name, column]) => {
      const word = wordAt(column, row);
      return word === null ? [] : [[name, word]];
    }),
  );

const hoursOf = (hours: number): Record<string, string> =>
  Number.isNaN(hours) ? {} : { hours: `${hours} h` };

const nameOf = (codes: Readonly<Record<string, number>>, code: number): string =>
  Object.entries(codes).find(([, value]) => value === code)?.[0] ?? String(code);

/** Rows of a component in the order of their days; within a day in the order of the exports. */
export function rowsOfComponent(exports: ReadExports, component: number): TracedRow[] {
  const rows: TracedRow[] = [];
  const collect = <T extends RowColumns & { readonly component: Int32Array }>(
    kind: TracedRow["kind"],
    table: T | null,
    used: (table: T, row: number) => { day: number; values: Record<string, string> },
  ) => {
    if (table === null) return;
    for (let row = 0; row < table.rows; row++) {
      if (table.component[row] !== component) continue;
      const { day, values } = used(table, row);
      const file = exports.files[table.file[row]!]!.file;
      rows.push({ kind, file, line: table.line[row]!, day: isoDate(day), used: values });
    }
  };
  collect("installed", exports.installed, (table, row) => ({
    day: table.installedOn[row]!,
    values: {
      ...hoursOf(table.hoursAtInstallation[row]!),
      ...(Number.isNaN(table.hoursNow[row]!) ? {} : { "hours now": `${table.hoursNow[row]} h` }),
      ...wordsOf({ aircraft: table.aircraft, position: table.position }, row),
      ...wordsOf({ environment: table.environment, standard: table.standard }, row),
    },
  }));
  collect("wear", exports.wear, (table, row) => ({
    day: table.day[row]!,
    values: {
      ...hoursOf(table.hours[row]!),
      wear: Number.isNaN(table.wearMm[row]!) ? nameOf(LOOK, table.look[row]!) : `${table.wearMm[row]} mm`,
      ...wordsOf({ aircraft: table.aircraft, position: table.position }, row),
      ...wordsOf({ environment: table.environment, standard: table.standard }, row),
    },
  }));
  collect("gaps", exports.gaps, (table, row) => ({
    day: table.day[row]!,
    values: { ...hoursOf(table.hours[row]!), gap: `${table.gapMm[row]} mm` },
  }));
  collect("removals", exports.removals, (table, row) => ({
    day: table.day[row]!,
    values: {
      ...hoursOf(table.hours[row]!),
      ...wordsOf({ cause: table.cause, mode: table.mode }, row),
      found: nameOf(FOUND_AT, table.found[row]!),
      finding: nameOf(FINDING, table.finding[row]!),
      ...wordsOf({ aircraft: table.aircraft, position: table.position }, row),
    },
  }));
  return rows.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}
