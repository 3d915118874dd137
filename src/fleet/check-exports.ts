/** What the exports of a fleet file need: columns, patterns for dates and names, part numbers that tell parts apart. */
import { clockOf, EXPORT_KINDS } from "./build-fleet.ts";
import type { Findings } from "./findings.ts";
import type { ExportKind } from "./fleet.ts";
import type { ExportEntry, FleetFile } from "./schema.ts";
import { FILL_IN } from "./starter-text.ts";
import type { Path } from "./yaml-source.ts";

/** Exports that hold lengths, and so may have a unit. */
const WITH_LENGTHS: readonly ExportKind[] = ["wear", "gaps"];

export function checkExports(file: FleetFile, found: Findings): void {
  checkTables(file, found);
  const { wear, removals, lives } = file.exports;
  if (wear === undefined && removals === undefined && lives === undefined) {
    found.report(
      ["exports"],
      "a wear export, or removals",
      "nothing can be said of wear or life without one of them",
    );
  }
  for (const kind of EXPORT_KINDS) {
    const entry = file.exports[kind];
    if (entry === undefined) continue;
    const path: Path = ["exports", kind];
    checkExported(entry, [...path, "exported"], found);
    checkDates(entry, [...path, "format", "dates"], found);
    if (entry.unit !== undefined && !WITH_LENGTHS.includes(kind)) {
      found.report([...path, "unit"], "no unit", "this export has no lengths: take the key out");
    }
    checkClock(file, kind, entry, found);
    checkPartColumn(file, kind, entry, found);
    checkHeadings(entry, [...path, "columns"], found);
  }
  checkGaps(file, found);
}

/** Lives and sums come together, and in place of the rows that they were made from. */
function checkTables(file: FleetFile, found: Findings): void {
  const { wear, lives, sums } = file.exports;
  if (lives === undefined && sums === undefined) return;
  const lacking = lives === undefined ? "lives" : sums === undefined ? "sums" : null;
  if (lacking !== null)
    found.report(
      ["exports"],
      `${lacking} too`,
      "tables of lives and of their sums are made together",
      "one of them",
    );
  if (wear !== undefined)
    found.report(
      ["exports", "wear"],
      "no wear export beside lives and sums",
      "they were made from its rows: take one out",
    );
  for (const kind of OF_LIVES) {
    if (file.exports[kind]?.clock !== "airframe") continue;
    const hint = "the table of lives counts the component's own hours";
    found.report(["exports", kind, "clock"], "no airframe hours beside a table of lives", hint);
  }
}

function checkExported({ exported }: ExportEntry, path: Path, found: Findings): void {
  if (exported === undefined) return;
  const { from, pattern, column } = exported;
  if (column !== undefined && from === undefined && pattern === undefined) return;
  if (column !== undefined || from === undefined || pattern === undefined) {
    found.report(path, "{ from: name, pattern: … } or { column: … }", "one of the two, with all its keys");
    return;
  }
  const tokens = [...pattern.matchAll(/\{([^}]*)\}/g)].map((match) => match[1]!);
  const known = tokens.every((token) => ["yyyy", "MM", "dd", "HH", "mm", "ss"].includes(token));
  if (!known || !tokens.includes("yyyy") || !tokens.includes("MM")) {
    const expected = "a file name with {yyyy} and {MM}, and perhaps {dd}, {HH}, {mm} or {ss}";
    found.report([...path, "pattern"], expected, 'such as "wear-{yyyy}-{MM}.csv"');
  }
}

function checkDates({ format }: ExportEntry, path: Path, found: Findings): void {
  const dates = format?.dates;
  if (dates === undefined) return;
  const [, date] = /^(.*?)(?:[ T]HH?:mm(?::ss)?)?$/.exec(dates) ?? [];
  const tokens = date?.match(/[A-Za-z]+/g) ?? [];
  const has = (...names: string[]) => tokens.filter((token) => names.includes(token)).length === 1;
  const monthAndYear = has("yyyy", "yy") && has("MM", "MMM", "MMMM", "M");
  const ok = monthAndYear && tokens.length === (has("dd", "d") ? 3 : 2);
  if (!ok)
    found.report(
      path,
      "yyyy, MM or MMM, and dd, with separators",
      'such as "dd.MM.yyyy" or "yyyy-MM-dd HH:mm"',
    );
}

/** Exports whose hours make lives together. */
const OF_LIVES: readonly ExportKind[] = ["wear", "removals", "installed"];

function checkClock(file: FleetFile, kind: ExportKind, entry: ExportEntry, found: Findings): void {
  const path: Path = ["exports", kind, "clock"];
  if (entry.clock === "airframe" && file.exports.installed === undefined) {
    const hint =
      "only an installed export can turn airframe hours into a component's: add one, with hours at installation";
    found.report(path, "an installed export beside it", hint);
    return;
  }
  const main: ExportKind = file.exports.wear === undefined ? "removals" : "wear";
  const clock = clockOf(file, main);
  if (!OF_LIVES.includes(kind) || clockOf(file, kind) === clock) return;
  const where = found.place(
    file.exports[main]?.clock === undefined ? ["exports", main] : ["exports", main, "clock"],
  );
  found.report(
    path,
    `"${clock}", as the ${main} export counts`,
    `${where} counts ${clock}, and a life has one clock`,
  );
}

/** Exports whose rows name a component by its serial. */
const namesComponents = (kind: ExportKind, entry: ExportEntry): boolean =>
  kind !== "flying" && entry.columns.component !== undefined;

function checkPartColumn(file: FleetFile, kind: ExportKind, entry: ExportEntry, found: Findings): void {
  const columns: Path = ["exports", kind, "columns"];
  const partColumn = entry.columns.part !== undefined;
  if (file.parts.length > 1 && namesComponents(kind, entry) && !partColumn) {
    const hint = `there are ${file.parts.length} parts (${found.place(["parts", 1])}), and a serial alone doesn't tell them apart`;
    found.report(columns, "a part column", hint, "none");
  }
  if (!partColumn) return;
  file.parts.forEach((part, i) => {
    if (part.part_numbers !== undefined && part.part_numbers.length > 0) return;
    const hint = `${found.place([...columns, "part"])} gives part numbers: list those of this part`;
    found.report(["parts", i, "part_numbers"], "at least one part number", hint);
  });
}

/** Fields that are read as numbers, dates or identities: no other field can mean the same column. */
const MEASURED = new Set([
  "component",
  "date",
  "hours",
  "wear",
  "gap",
  "installed_on",
  "hours_at_installation",
  "hours_now",
  "month",
]);

function checkHeadings({ columns }: ExportEntry, path: Path, found: Findings): void {
  const first = new Map<string, string>();
  for (const [field, heading] of Object.entries(columns)) {
    if (heading === undefined) continue;
    if (heading === FILL_IN) {
      found.report([...path, field], "a heading of the export", "no heading looked like it: fill it in");
      continue;
    }
    const other = first.get(heading);
    if (other === undefined) first.set(heading, field);
    else if (MEASURED.has(field) || MEASURED.has(other)) {
      found.report([...path, field], "a column of its own", `${found.place([...path, other])} is the same`);
    }
  }
}

function checkGaps(file: FleetFile, found: Findings): void {
  const columns = file.exports.gaps?.columns;
  if (columns === undefined || columns.component !== undefined) return;
  if (columns.aircraft !== undefined && columns.position !== undefined) return;
  found.report(
    ["exports", "gaps", "columns"],
    "component, or aircraft and position",
    "a gap must be joined to a component",
    Object.keys(columns).join(", "),
  );
}
