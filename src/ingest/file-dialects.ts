/** The decimal mark and date order of every file of one kind, with the evidence. */
import type { ExportSpec } from "../fleet/fleet.ts";
import { ExportError } from "../problems.ts";
import { EMPTY } from "./byte-texts.ts";
import { type Choice, decide, type Votes } from "./decide-dialect.ts";
import { type DateOrder, type DateReading, dateReader, readDate, readMonth } from "./parse-date.ts";
import { splitLength } from "./parse-length.ts";
import { type Decimal, decimalEvidence, withoutHoursUnit } from "./parse-number.ts";
import type { FileReading, RawColumn, RawTable, Role } from "./raw-table.ts";

export interface FileDialect {
  readonly decimal: Decimal;
  readonly order: DateOrder;
  readonly evidence: readonly string[];
}

export const HOURS_ROLES: readonly Role[] = ["hours", "hours_at_installation", "hours_now"];
export const LENGTH_ROLES: readonly Role[] = ["wear", "gap"];
export const DATE_ROLES: readonly Role[] = ["date", "installed_on", "month", "exported"];

/** How a date column's texts are read: by the fleet file's pattern, else by what they look like. */
export function readerOf(role: Role, spec: ExportSpec): (text: string) => DateReading {
  const { dates } = spec.format;
  if (dates === null) return role === "month" ? readMonth : readDate;
  return dateReader(dates);
}

/** Decides both for each file. Throws ExportError E-DIALECT (ambiguous) or E-DATE (a spreadsheet's day numbers). */
export function fileDialects(spec: ExportSpec, raw: RawTable, files: readonly FileReading[]): FileDialect[] {
  const paths = files.map(({ path }) => path);
  const decimals = decimalOfFiles(spec, raw, files, paths);
  const orders = orderOfFiles(spec, raw, files, paths);
  return files.map((_, at) => ({
    decimal: decimals[at]!.value,
    order: orders[at]!.value,
    evidence: [decimals[at]!.evidence, orders[at]!.evidence],
  }));
}

function decimalOfFiles(
  spec: ExportSpec,
  raw: RawTable,
  files: readonly FileReading[],
  paths: readonly string[],
): Choice<Decimal>[] {
  const set = spec.format.decimal;
  if (set !== null)
    return files.map(() => ({ value: set, evidence: `decimal mark "${set}": set in the fleet file` }));
  const samples: string[] = [];
  const votes = files.map((file, at) => {
    const vote: Votes = { first: 0, second: 0, ambiguous: 0 };
    for (const role of [...HOURS_ROLES, ...LENGTH_ROLES]) {
      const strip = LENGTH_ROLES.includes(role)
        ? (text: string) => splitLength(text).number
        : withoutHoursUnit;
      for (const text of distinctTexts(raw.column(role), file)) {
        const evidence = decimalEvidence(strip(text));
        if (evidence === "point") vote.first++;
        else if (evidence === "comma") vote.second++;
        else if (evidence === "ambiguous") {
          vote.ambiguous++;
          samples[at] ??= text;
        }
      }
    }
    return vote;
  });
  return decide<Decimal>(
    { what: "decimal mark", setting: "decimal", first: ".", second: ",", describe: (mark) => `"${mark}"` },
    paths,
    votes,
    (file) => samples[file] ?? "",
  );
}

function orderOfFiles(
  spec: ExportSpec,
  raw: RawTable,
  files: readonly FileReading[],
  paths: readonly string[],
): Choice<DateOrder>[] {
  const { dates } = spec.format;
  if (dates !== null)
    return files.map(() => ({ value: "day first", evidence: `dates ${dates}: set in the fleet file` }));
  const samples: string[] = [];
  const votes = files.map((file, at) => {
    const vote: Votes = { first: 0, second: 0, ambiguous: 0 };
    for (const role of DATE_ROLES) {
      const column = raw.column(role);
      let texts = 0;
      let dayNumbers = 0;
      for (const text of distinctTexts(column, file)) {
        const reading = readerOf(role, spec)(text);
        texts++;
        if (reading.kind === "ordered") {
          if (reading.order === "day first") vote.first++;
          else vote.second++;
        } else if (reading.kind === "either") {
          vote.ambiguous++;
          samples[at] ??= text;
        } else if (reading.kind === "none" && reading.why === "day number") dayNumbers++;
      }
      if (dayNumbers > texts / 2) throw dayNumberColumn(file, role);
    }
    return vote;
  });
  return decide<DateOrder>(
    {
      what: "date order",
      setting: "dates",
      first: "day first",
      second: "month first",
      describe: (order) => order,
    },
    paths,
    votes,
    (file) => samples[file] ?? "",
  );
}

function dayNumberColumn(file: FileReading, role: Role): ExportError {
  const heading = file.heading.columns.find((column) => column.role === role)?.heading ?? role;
  return new ExportError(
    "E-DATE",
    `${file.path}: column ${JSON.stringify(heading)}: expected dates, found a spreadsheet's day numbers (which count from 1900 or from 1904, and the file doesn't say which): format the column as dates before exporting`,
  );
}

/** Distinct texts that one file has in a column, in the order of their codes. */
function* distinctTexts(column: RawColumn | null, file: FileReading): Generator<string> {
  if (column === null) return;
  const seen = new Uint8Array(column.texts.length);
  for (let row = file.firstRow; row < file.endRow; row++) {
    const code = column.codes[row]!;
    if (code !== EMPTY) seen[code] = 1;
  }
  for (let code = 0; code < seen.length; code++) if (seen[code] === 1) yield column.text(code);
}
