/** The heading line of an export and its delimiter: the line that holds every heading the fleet file names. */
import type { ExportSpec, FieldName } from "../fleet/fleet.ts";
import { nearestWord } from "../fleet/nearest-word.ts";
import { ExportError } from "../problems.ts";
import { cellsOf, type RawRecord, RecordFramer } from "./frame-records.ts";
import { LENGTH_UNITS, type LengthUnitName } from "./parse-length.ts";

const DELIMITERS: readonly string[] = [",", ";", "\t", "|"];
const DELIMITER_NAMES: Readonly<Record<string, string>> = {
  "\t": "tab",
  ",": "comma",
  ";": "semicolon",
  "|": "bar",
};
/** A heading further down is taken for missing. */
const HEADING_WITHIN_LINES = 200;

/** A column that is read: ours by `field`, or the unit and export-date columns that the fleet file names. */
export interface MappedColumn {
  readonly role: FieldName | "unit" | "exported";
  /** Number of the cell, from 0. */
  readonly cell: number;
  /** As the export writes it. */
  readonly heading: string;
}

export interface Heading {
  readonly delimiter: string;
  /** Physical line on which the heading begins, from 1, and how many lines it takes. */
  readonly line: number;
  readonly lines: number;
  /** All heading cells, trimmed, without empty ones at the end. */
  readonly cells: readonly string[];
  readonly columns: readonly MappedColumn[];
  /** Unit that the heading of the wear or gap column states, such as "Wear [mm]". */
  readonly unit: LengthUnitName | null;
  readonly evidence: string;
}

/** Headings that the fleet file names for an export, with what each is for. */
export function wantedColumns(spec: ExportSpec): readonly { role: MappedColumn["role"]; heading: string }[] {
  const wanted: { role: MappedColumn["role"]; heading: string }[] = [];
  for (const [field, heading] of Object.entries(spec.columns))
    wanted.push({ role: field as FieldName, heading: tidy(heading) });
  if (spec.unit !== null && typeof spec.unit === "object")
    wanted.push({ role: "unit", heading: tidy(spec.unit.column) });
  if (spec.exported?.from === "column")
    wanted.push({ role: "exported", heading: tidy(spec.exported.column) });
  return wanted;
}

const tidy = (cell: string): string => cell.replace(/\s+/g, " ").trim();

/** A heading without a unit in brackets at its end, and that unit's text. */
function withoutUnit(heading: string): { name: string; unit: string | null } {
  const match = /^(.*\S)\s*[[(]([^[\]()]*)[\])]$/.exec(heading);
  return match ? { name: match[1]!, unit: match[2]!.trim() } : { name: heading, unit: null };
}

/**
 * Finds the heading among the first lines of a file.
 *
 * @param lines  the first physical lines of the file
 * Throws ExportError E-HEADING (not there, or a heading twice), E-DIALECT (two delimiters fit), E-UNIT.
 */
export function findHeading(path: string, lines: readonly string[], spec: ExportSpec): Heading {
  const wanted = wantedColumns(spec).map(({ heading }) => heading);
  const candidates = spec.format.delimiter === null ? DELIMITERS : [spec.format.delimiter];
  const found: Heading[] = [];
  for (const delimiter of candidates) {
    for (const record of firstRecords(lines, delimiter)) {
      if (record.unclosed || !mentions(record.text, wanted)) continue;
      const cells = cellsOf(record.text, delimiter).map(tidy);
      if (!wanted.every((heading) => cellOf(cells, heading) !== null)) continue;
      found.push(headingFrom(path, record, cells, delimiter, spec));
      break;
    }
  }
  const [first, second] = found.sort((a, b) => a.line - b.line);
  if (first === undefined) throw noHeading(path, wanted, bestMatch(lines, candidates, wanted));
  if (second !== undefined && second.line === first.line)
    throw new ExportError(
      "E-DIALECT",
      `${path}:${first.line}: the headings can be read with the delimiter ${name(first.delimiter)} and with ${name(second.delimiter)}: set delimiter under format in the fleet file`,
    );
  return first;
}

/** True where a record holds the first word of every heading: cheaper than parsing it, and hardly any other does. */
const mentions = (text: string, wanted: readonly string[]): boolean =>
  wanted.every((heading) => text.includes(heading.split(" ", 1)[0]!));

interface BestMatch {
  readonly matched: number;
  readonly cells: readonly string[];
  readonly line: number;
}

/** The line that has most of the headings, for the message that says what it lacks. */
function bestMatch(
  lines: readonly string[],
  delimiters: readonly string[],
  wanted: readonly string[],
): BestMatch {
  let best: BestMatch = { matched: 0, cells: [], line: 1 };
  for (const delimiter of delimiters) {
    for (const record of firstRecords(lines, delimiter)) {
      const cells = record.unclosed ? [] : cellsOf(record.text, delimiter).map(tidy);
      const matched = wanted.filter((heading) => cellOf(cells, heading) !== null).length;
      if (matched > best.matched) best = { matched, cells, line: record.line };
    }
  }
  return best;
}

const name = (delimiter: string): string => DELIMITER_NAMES[delimiter] ?? JSON.stringify(delimiter);

function firstRecords(lines: readonly string[], delimiter: string): readonly RawRecord[] {
  const records: RawRecord[] = [];
  const framer = new RecordFramer(delimiter);
  const keep = (record: RawRecord): void => {
    records.push(record);
  };
  lines.slice(0, HEADING_WITHIN_LINES).forEach((text, at) => {
    framer.push(text, at + 1, keep);
  });
  framer.end(keep);
  return records;
}

/** Number of the cell that holds a heading: as written, else with its unit in brackets left off; null: none. */
function cellOf(cells: readonly string[], heading: string): number | null {
  const exact = cells.indexOf(heading);
  if (exact >= 0) return exact;
  const bare = cells.findIndex((cell) => withoutUnit(cell).name === heading);
  return bare >= 0 ? bare : null;
}

function headingFrom(
  path: string,
  record: RawRecord,
  allCells: readonly string[],
  delimiter: string,
  spec: ExportSpec,
): Heading {
  const cells = [...allCells];
  while (cells.at(-1) === "") cells.pop();
  const columns = wantedColumns(spec).map(({ role, heading }) => {
    const cell = cellOf(cells, heading)!;
    const twice = cells.indexOf(cells[cell]!, cell + 1);
    if (twice >= 0)
      throw new ExportError(
        "E-HEADING",
        `${path}:${record.line}: expected the heading ${JSON.stringify(cells[cell])} once, found it in columns ${cell + 1} and ${twice + 1}`,
      );
    return { role, cell, heading: cells[cell]! };
  });
  const measured = columns.find(({ role }) => role === "wear" || role === "gap");
  return {
    delimiter,
    line: record.line,
    lines: record.lines,
    cells,
    columns,
    unit: measured === undefined ? null : statedUnit(path, record.line, measured.heading),
    evidence: `delimiter ${name(delimiter)}: line ${record.line} holds all ${columns.length} headings when split at it`,
  };
}

/** The unit in a heading's brackets, or null where there are none; brackets that hold no unit are part of the name. */
function statedUnit(path: string, line: number, heading: string): LengthUnitName | null {
  const { unit } = withoutUnit(heading);
  if (unit === null) return null;
  const known = LENGTH_UNITS.get(unit.toLowerCase());
  if (known !== undefined) return known;
  if (/^(cm|m|ft|feet|foot|km|yd|nm|dm)$/i.test(unit))
    throw new ExportError(
      "E-UNIT",
      `${path}:${line}: expected mm, um, in or thou in the heading ${JSON.stringify(heading)}, found ${JSON.stringify(unit)}`,
    );
  return null;
}

function noHeading(path: string, wanted: readonly string[], best: BestMatch): ExportError {
  const missing = wanted.filter((heading) => cellOf(best.cells, heading) === null);
  const hints = missing.slice(0, 5).map((heading) => {
    const near = nearestWord(
      heading.slice(0, 60),
      best.cells.map((cell) => cell.slice(0, 60)),
    );
    return `${JSON.stringify(heading)}${near === null ? "" : ` (did you mean ${JSON.stringify(near)}?)`}`;
  });
  const where =
    best.matched === 0
      ? `none of the first ${HEADING_WITHIN_LINES} lines has any of them`
      : `line ${best.line} lacks ${hints.join(", ")}`;
  return new ExportError(
    "E-HEADING",
    `${path}: expected a line with the headings ${wanted.map((heading) => JSON.stringify(heading)).join(", ")}; ${where}`,
  );
}
