/** What the checks across rows share: the rows of each component in order, breaks between lives, and how to remark. */
import type { ExportKind, FieldName, Fleet } from "../fleet/fleet.ts";
import type { ProblemCode, RowProblem } from "../problems.ts";
import type { InstalledRows, ReadExports, RowColumns } from "../records/exports.ts";
import { type RowsByNumber, rowsByNumber } from "../records/rows-by-number.ts";
import { rowsInOrder } from "../records/rows-in-order.ts";
import { rowFates } from "./row-fates.ts";

export interface RowChecks {
  readonly exports: ReadExports;
  readonly fleet: Fleet;
  /** Rows of each component in order of day and hours; null where there is no such export. */
  readonly looks: RowsByNumber | null;
  readonly removals: RowsByNumber | null;
  readonly installed: RowsByNumber | null;
  readonly remark: (remark: Remark) => void;
}

export interface Remark {
  readonly code: ProblemCode;
  readonly kind: ExportKind;
  readonly row: number;
  readonly field: FieldName | null;
  readonly expected: string;
  readonly found: string;
  /** What to say after what becomes of the row (`fate`); that alone where nothing more is to be said. */
  readonly hint?: (fate: string) => string;
}

/** What the checks across rows share: the rows, how to name one, and where remarks go. */
export function rowChecks(
  exports: ReadExports,
  fleet: Fleet,
  onProblem: (problem: RowProblem) => void,
): RowChecks {
  const { wear, removals, installed, components } = exports;
  const fate = rowFates(exports, fleet);
  return {
    exports,
    fleet,
    looks: wear && rowsInOrder(wear, components.count),
    removals: removals && rowsInOrder(removals, components.count),
    installed: installed && fittingsInOrder(installed, components.count),
    remark: ({ code, kind, row, field, expected, found, hint = (said) => said }) => {
      const rows: RowColumns = exports[kind]!;
      const column = field === null ? null : (fleet.exports[kind]?.columns[field] ?? field);
      const file = exports.files[rows.file[row]!]!.file;
      onProblem({ code, file, line: rows.line[row]!, column, expected, found, hint: hint(fate(kind, row)) });
    },
  };
}

const fittingsInOrder = (
  { component, installedOn, hoursAtInstallation }: InstalledRows,
  components: number,
): RowsByNumber => rowsByNumber(components, component, installedOn, hoursAtInstallation);

/** Where a row stands, for remarks about two rows. */
export function placeOf(exports: ReadExports, kind: ExportKind, row: number): string {
  const rows: RowColumns = exports[kind]!;
  return `${exports.files[rows.file[row]!]!.file}:${rows.line[row]!}`;
}

/** Row numbers of one component, in order. */
export const rowsOf = (index: RowsByNumber | null, component: number): Int32Array =>
  index === null
    ? new Int32Array(0)
    : index.order.subarray(index.start[component]!, index.start[component + 1]!);

/** True where the component was taken off or fitted between two days, so that its hours may start again. */
export const breaks = (checks: RowChecks, component: number, from: number, to: number): boolean =>
  removedBetween(checks, component, from, to) ||
  anyDay(checks.installed, checks.exports.installed?.installedOn, component, from + 1, to);

/** True where the component has a removal from one day to another, both included. */
export const removedBetween = (checks: RowChecks, component: number, from: number, to: number): boolean =>
  anyDay(checks.removals, checks.exports.removals?.day, component, from, to);

/** True where a component has a row dated from one day to another, both included. */
function anyDay(
  index: RowsByNumber | null,
  days: Int32Array | undefined,
  component: number,
  from: number,
  to: number,
): boolean {
  if (index === null || days === undefined) return false;
  const at = firstOnOrAfter(index, days, component, from);
  return at < index.start[component + 1]! && days[index.order[at]!]! <= to;
}

/** Place in the order of a component's first row on or after a day; a component's end where it has none. */
export function firstOnOrAfter(
  index: RowsByNumber,
  days: Int32Array,
  component: number,
  day: number,
): number {
  let low = index.start[component]!;
  let high = index.start[component + 1]!;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (days[index.order[middle]!]! < day) low = middle + 1;
    else high = middle;
  }
  return low;
}
