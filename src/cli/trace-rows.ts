/** The rows of one component with the values that were used, whichever export they came from. */
import {
  FINDING,
  FOUND_AT,
  GAP_STATE,
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

/** As the machine files write numbers: enough for any gauge, without the noise of a conversion. */
const tenDigits = (value: number): number => Number(value.toPrecision(10));

const hoursOf = (hours: number): Record<string, string> =>
  Number.isNaN(hours) ? {} : { hours: `${tenDigits(hours)} h` };

const nameOf = (codes: Readonly<Record<string, number>>, code: number): string =>
  Object.entries(codes).find(([, value]) => value === code)?.[0] ?? String(code);

/** What the joins make of a component's rows. */
export interface RowJoins {
  /** Hours on the life's clock of looks and removals by address, where the exports count the airframe's; else null. */
  readonly lifeHours: ReadonlyMap<string, number> | null;
  /** Rows of the gap export that were joined to it, with its hours then. */
  readonly gaps: ReadonlyMap<number, number>;
}

/** "file:line" */
export const address = (at: { readonly file: string; readonly line: number }): string =>
  `${at.file}:${at.line}`;

/** Rows of a component in the order of their days; within a day in the order of the exports. */
export function rowsOfComponent(exports: ReadExports, component: number, joins: RowJoins): TracedRow[] {
  const rows: TracedRow[] = [];
  const collect = <T extends RowColumns & { readonly component: Int32Array }>(
    kind: TracedRow["kind"],
    table: T | null,
    used: (table: T, row: number) => { day: number; values: Record<string, string> },
  ) => {
    if (table === null) return;
    for (let row = 0; row < table.rows; row++) {
      if (table.component[row] !== component && !(kind === "gaps" && joins.gaps.has(row))) continue;
      const { day, values } = used(table, row);
      const file = exports.files[table.file[row]!]!.file;
      rows.push({ kind, file, line: table.line[row]!, day: isoDate(day), used: values });
    }
  };
  const ownHours = (
    table: RowColumns & { readonly hours: Float64Array },
    row: number,
  ): Record<string, string> => {
    const recorded = table.hours[row]!;
    if (joins.lifeHours === null) return hoursOf(recorded);
    const at = address({ file: exports.files[table.file[row]!]!.file, line: table.line[row]! });
    const own = joins.lifeHours.get(at) ?? Number.NaN;
    return {
      hours: Number.isNaN(own) ? "not known" : `${tenDigits(own)} h`,
      ...(Number.isNaN(recorded) ? {} : { "of the airframe": `${recorded} h` }),
    };
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
      ...ownHours(table, row),
      wear: Number.isNaN(table.wearMm[row]!)
        ? nameOf(LOOK, table.look[row]!)
        : `${tenDigits(table.wearMm[row]!)} mm`,
      ...wordsOf({ aircraft: table.aircraft, position: table.position }, row),
      ...wordsOf({ environment: table.environment, standard: table.standard }, row),
    },
  }));
  collect("gaps", exports.gaps, (table, row) => ({
    day: table.day[row]!,
    values: {
      ...hoursOf(joins.gaps.get(row) ?? table.hours[row]!),
      gap: Number.isNaN(table.gapMm[row]!) ? "not known" : `${tenDigits(table.gapMm[row]!)} mm`,
      state: nameOf(GAP_STATE, table.state[row]!),
      joined: joins.gaps.has(row) ? "yes" : "no",
      ...wordsOf({ aircraft: table.aircraft, position: table.position }, row),
    },
  }));
  collect("removals", exports.removals, (table, row) => ({
    day: table.day[row]!,
    values: {
      ...ownHours(table, row),
      ...wordsOf({ cause: table.cause, mode: table.mode }, row),
      found: nameOf(FOUND_AT, table.found[row]!),
      finding: nameOf(FINDING, table.finding[row]!),
      ...wordsOf({ aircraft: table.aircraft, position: table.position }, row),
    },
  }));
  return rows.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}
