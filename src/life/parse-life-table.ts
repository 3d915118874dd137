/**
 * Reads a life table that a user wrote: CSV with a heading line `[entry,]lower,upper[,count][,group][,flown]`, hours
 * throughout.
 *
 * lower = upper is an exact event, an empty upper a life still running, lower 0 with an upper an event before the first
 * look. `flown`, the hours of a running life past its last look, serves only to show what counting them would do. Columns may stand in any order; others are ignored unless named by `by`. Every bad cell is reported (E-TABLE).
 */
import { parse } from "csv-parse/sync";
import type { RowProblem } from "../problems.ts";
import { type LifeRow, type LifeTable, lifeTable } from "../records/life-table.ts";

export interface LifeGroup {
  readonly group: string;
  readonly table: LifeTable;
  /** Hours flown by each row, at least its lower; only where the table has a column for it. */
  readonly hoursFlown?: Float64Array;
}

interface ReadRow extends LifeRow {
  readonly flownHours: number;
}

export interface ParsedLifeTable {
  /** In the order of their first rows; one group "all" where there is no group column. */
  readonly groups: readonly LifeGroup[];
  readonly problems: readonly RowProblem[];
  readonly rowsRead: number;
}

export interface ParseLifeOptions {
  /** Name of the file, for messages. __Default value:__ "life table" */
  readonly file?: string;
  /** Heading of the column to group by. __Default value:__ `group`, where there is one */
  readonly by?: string;
}

interface Cells {
  readonly cells: readonly string[];
  readonly line: number;
}

/** Where each column stands; -1: not there. */
interface Columns {
  readonly entry: number;
  readonly lower: number;
  readonly upper: number;
  readonly count: number;
  readonly group: number;
  readonly flown: number;
  readonly names: readonly string[];
}

/** @param text  the whole file */
export function parseLifeTable(text: string, options: ParseLifeOptions = {}): ParsedLifeTable {
  const file = options.file ?? "life table";
  const problems: RowProblem[] = [];
  const report = (
    line: number,
    column: string | null,
    expected: string,
    found: string,
    hint: string | null,
  ) => {
    problems.push({ code: "E-TABLE", file, line, column, expected, found, hint });
  };
  const lines = readCells(text, report);
  const heading = lines[0];
  if (heading === undefined) {
    if (problems.length === 0) report(1, null, "a heading line lower,upper and rows", "", null);
    return { groups: [], problems, rowsRead: 0 };
  }
  const columns = findColumns(heading, options.by, report);
  if (columns === null) return { groups: [], problems, rowsRead: 0 };
  const byGroup = new Map<string, ReadRow[]>();
  for (const { cells, line } of lines.slice(1)) {
    const row = readRow(cells, columns, (column, expected, found, hint) =>
      report(line, column, expected, found, hint),
    );
    if (row === null) continue;
    const group = columns.group < 0 ? "all" : cells[columns.group]!;
    const rows = byGroup.get(group);
    if (rows === undefined) byGroup.set(group, [row]);
    else rows.push(row);
  }
  if (lines.length === 1) report(heading.line, null, "rows under the headings", "none", null);
  const groups = [...byGroup].map(([group, rows]) => ({
    group,
    table: lifeTable(rows),
    ...(columns.flown < 0 ? {} : { hoursFlown: Float64Array.from(rows, ({ flownHours }) => flownHours) }),
  }));
  return { groups, problems, rowsRead: lines.length - 1 };
}

type Report = (
  line: number,
  column: string | null,
  expected: string,
  found: string,
  hint: string | null,
) => void;

function readCells(text: string, report: Report): Cells[] {
  const first = /^\uFEFF?[^\r\n]*/.exec(text)![0];
  const delimiter = !first.includes(",") && first.includes(";") ? ";" : ",";
  try {
    const options = {
      bom: true,
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    } as const;
    // The types of csv-parse don't tell that `info` wraps each record.
    const records = parse(text, options) as unknown as { record: string[]; info: { lines: number } }[];
    return records.map(({ record, info }) => ({ cells: record, line: info.lines }));
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 1;
    report(line, null, "comma-separated cells", (error as Error).message, "a quote that is not closed?");
    return [];
  }
}

function findColumns(heading: Cells, by: string | undefined, report: Report): Columns | null {
  const names = heading.cells.map((cell) => cell.toLowerCase());
  const found = heading.cells.join(",");
  const expected = "headings [entry,]lower,upper[,count][,group][,flown]";
  const twice = names.find((name, i) => name !== "" && names.indexOf(name) !== i);
  if (twice !== undefined) {
    report(heading.line, twice, "each heading once", found, null);
    return null;
  }
  if (!names.includes("lower") || !names.includes("upper")) {
    report(heading.line, null, expected, found, "the first line must name the columns");
    return null;
  }
  const group = names.indexOf((by ?? "group").toLowerCase());
  if (by !== undefined && group < 0) {
    report(heading.line, by, `a column ${JSON.stringify(by)} to group by`, found, null);
    return null;
  }
  const at = (name: string) => names.indexOf(name);
  return {
    entry: at("entry"),
    lower: at("lower"),
    upper: at("upper"),
    count: at("count"),
    group,
    flown: at("flown"),
    names: heading.cells,
  };
}

type ReportCell = (column: string | null, expected: string, found: string, hint: string | null) => void;

function readRow(cells: readonly string[], columns: Columns, report: ReportCell): ReadRow | null {
  if (cells.length !== columns.names.length) {
    report(
      null,
      `${columns.names.length} cells`,
      cells.join(","),
      "decimal commas? write hours with a point",
    );
    return null;
  }
  const number = (at: number, whenAbsent: number): number | null => {
    const cell = at < 0 ? "" : cells[at]!;
    if (cell === "" && !Number.isNaN(whenAbsent)) return whenAbsent;
    const value = Number(cell);
    if (/^[+]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(cell) && Number.isFinite(value)) return value;
    report(columns.names[at] ?? null, "hours as a number, 0 or more", cell, numberHint(cell));
    return null;
  };
  const entryHours = number(columns.entry, 0);
  const lowerHours = number(columns.lower, Number.NaN);
  const upperHours = number(columns.upper, Number.POSITIVE_INFINITY);
  const count = number(columns.count, 1);
  if (entryHours === null || lowerHours === null || upperHours === null || count === null) return null;
  const flownHours = number(columns.flown, lowerHours);
  if (flownHours === null) return null;
  const problem = impossible(entryHours, lowerHours, upperHours, count);
  if (problem !== null) {
    const [column, expected] = problem;
    report(column, expected, cells[columns.names.findIndex((n) => n.toLowerCase() === column)] ?? "", null);
    return null;
  }
  if (flownHours < lowerHours) {
    report("flown", `at least lower (${lowerHours}): the life was looked at there`, `${flownHours}`, null);
    return null;
  }
  return { entryHours, lowerHours, upperHours, count, flownHours };
}

function impossible(
  entry: number,
  lower: number,
  upper: number,
  count: number,
): [column: string, expected: string] | null {
  if (upper < lower) return ["upper", `at least lower (${lower})`];
  if (upper === 0) return ["upper", "an event after hour 0"];
  if (entry > lower) return ["entry", `at most lower (${lower}): a life is seen only from its entry`];
  if (!Number.isInteger(count) || count < 1) return ["count", "a whole number of lives, 1 or more"];
  return null;
}

function numberHint(cell: string): string | null {
  if (cell === "") return "the cell is empty";
  if (/^\d+,\d+$/.test(cell)) return "a decimal comma? write 12.5";
  if (/^-/.test(cell)) return "hours can't be negative";
  return null;
}
