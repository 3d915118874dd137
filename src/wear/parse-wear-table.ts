/** The wear table of the command line: CSV text to one wear table per group, with an address for every refused row. */
import { type Info, parse } from "csv-parse/sync";
import type { RowProblem } from "../problems.ts";
import type { WearTable } from "../records/wear-table.ts";

export interface WearGroup {
  readonly group: string;
  readonly table: WearTable;
  /** Names of the components, by number. */
  readonly componentNames: readonly string[];
}

/** Every row read is in a group or among the problems: read = accepted + problems (by row). */
export type ParsedWearTable =
  | {
      readonly kind: "parsed";
      readonly groups: readonly WearGroup[];
      readonly rowsRead: number;
      readonly problems: readonly RowProblem[];
    }
  | { readonly kind: "unusable"; readonly problems: readonly RowProblem[] };

interface Columns {
  readonly component: number;
  readonly hours: number;
  readonly wear: number;
  readonly group: number | null;
}

interface Row {
  readonly component: string;
  readonly hours: number;
  readonly wearMm: number;
  readonly group: string;
}

/**
 * Reads `component,hours,wear[,group]` (any order, other columns allowed): hours in flight hours, wear in millimetres,
 * decimal points. Components are text and belong to their group.
 *
 * @param file name for messages
 * @param by   heading of the column that groups; without it `group` where there is one, else one group "all"
 */
export function parseWearTable(text: string, file: string, by?: string): ParsedWearTable {
  const problemAt = tableProblem(file);
  const records = parse(text, {
    bom: true,
    info: true,
    raw: true,
    relax_column_count: true,
    skip_empty_lines: true,
    trim: true,
  }) as unknown as { info: Info; record: string[]; raw: string }[];
  const heading = records[0];
  if (heading === undefined) {
    return { kind: "unusable", problems: [problemAt(1, null, "a heading line", "", null)] };
  }
  const columns = columnsOf(heading.record, problemAt, by);
  if ("problem" in columns) return { kind: "unusable", problems: [columns.problem] };
  const problems: RowProblem[] = [];
  const rows: Row[] = [];
  for (const { info, record } of records.slice(1)) {
    const row = rowOf(record, heading.record, columns, (column, expected, found, hint) =>
      problemAt(info.lines, column, expected, found, hint ?? null),
    );
    if ("problem" in row) problems.push(row.problem);
    else rows.push(row);
  }
  return { kind: "parsed", groups: groupsOf(rows), rowsRead: records.length - 1, problems };
}

type ProblemAt = (
  line: number,
  column: string | null,
  expected: string,
  found: string,
  hint: string | null,
) => RowProblem;

const tableProblem =
  (file: string): ProblemAt =>
  (line, column, expected, found, hint) => ({ code: "E-TABLE", file, line, column, expected, found, hint });

function columnsOf(headings: readonly string[], problemAt: ProblemAt, by?: string) {
  const names = headings.map((name) => name.toLowerCase());
  const refuse = (expected: string, hint: string | null) => ({
    problem: problemAt(1, null, expected, headings.join(","), hint),
  });
  const wanted = ["component", "hours", "wear"];
  const missing = wanted.filter((name) => !names.includes(name));
  if (missing.length > 0) {
    const hint = headings.length === 1 && /[;\t]/.test(headings[0]!) ? "commas between the columns" : null;
    return refuse(`the headings component,hours,wear (missing: ${missing.join(", ")})`, hint);
  }
  const groupName = by?.toLowerCase() ?? (names.includes("group") ? "group" : null);
  for (const name of groupName === null ? wanted : [...wanted, groupName]) {
    if (names.filter((other) => other === name).length > 1) return refuse(`one column "${name}"`, null);
  }
  if (groupName !== null && !names.includes(groupName)) return refuse(`a column "${by}" to group by`, null);
  const at = (name: string) => names.indexOf(name);
  return {
    component: at("component"),
    hours: at("hours"),
    wear: at("wear"),
    group: groupName === null ? null : at(groupName),
  };
}

function rowOf(
  record: readonly string[],
  headings: readonly string[],
  columns: Columns,
  refuse: (column: string | null, expected: string, found: string, hint?: string) => RowProblem,
): Row | { problem: RowProblem } {
  if (record.length !== headings.length) {
    return { problem: refuse(null, `${headings.length} cells`, `${record.length} cells`) };
  }
  const component = record[columns.component]!;
  if (component === "") return { problem: refuse("component", "a component's name or serial number", "") };
  const numbers: number[] = [];
  for (const [name, at] of [
    ["hours", columns.hours],
    ["wear", columns.wear],
  ] as const) {
    const cell = record[at]!;
    const value = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(cell) ? Number(cell) : Number.NaN;
    if (!Number.isFinite(value)) {
      const hint = cell.includes(",") ? "decimal points, no thousands separators" : undefined;
      return { problem: refuse(name, name === "hours" ? "flight hours" : "millimetres", cell, hint) };
    }
    numbers.push(value);
  }
  const [hours, wearMm] = numbers as [number, number];
  if (hours < 0) return { problem: refuse("hours", "flight hours of at least 0", record[columns.hours]!) };
  return { component, hours, wearMm, group: columns.group === null ? "all" : record[columns.group]! };
}

/** Groups and components are numbered as they first appear. */
function groupsOf(rows: readonly Row[]): WearGroup[] {
  const byGroup = new Map<string, Row[]>();
  for (const row of rows) {
    const group = byGroup.get(row.group);
    if (group === undefined) byGroup.set(row.group, [row]);
    else group.push(row);
  }
  return Array.from(byGroup, ([group, members]) => {
    const numbers = new Map<string, number>();
    for (const { component } of members) {
      if (!numbers.has(component)) numbers.set(component, numbers.size);
    }
    const table: WearTable = {
      rows: members.length,
      components: numbers.size,
      component: Int32Array.from(members, (row) => numbers.get(row.component)!),
      hours: Float64Array.from(members, (row) => row.hours),
      wearMm: Float64Array.from(members, (row) => row.wearMm),
    };
    return { group, table, componentNames: [...numbers.keys()] };
  });
}
