/** Exports of a first fleet file: which seen files belong together, and their lines under `exports`. */
import { EXPORT_KINDS } from "./build-fleet.ts";
import type { ExportKind, FieldName } from "./fleet.ts";
import { EXPORT_COLUMNS } from "./schema-exports.ts";
import { baseName, type GuessedColumn, guessExport, type SeenFile } from "./starter-columns.ts";
import { FILL_IN, oneLine, yaml } from "./starter-text.ts";
import { wordsIn } from "./starter-words.ts";

export interface StarterExport {
  readonly kind: ExportKind;
  readonly columns: readonly GuessedColumn[];
  readonly files: readonly SeenFile[];
}

/** Files by kind of export; a file that lacks a heading of the first of its kind is left out, with the reason. */
export function sortFiles(files: readonly SeenFile[]): { exports: StarterExport[]; leftOut: string[] } {
  const byKind = new Map<ExportKind, { columns: readonly GuessedColumn[]; files: SeenFile[] }>();
  const leftOut: string[] = [];
  for (const file of files) {
    const guess = guessExport(file);
    if (guess === null) {
      leftOut.push(
        `${oneLine(file.path)}: no kind of export has the headings ${oneLine(file.heading.join(", "))}`,
      );
      continue;
    }
    const first = byKind.get(guess.kind);
    if (first === undefined) byKind.set(guess.kind, { columns: guess.columns, files: [file] });
    else {
      const lacking = first.columns.find(
        ({ heading }) => heading !== null && !file.heading.includes(heading),
      );
      if (lacking === undefined) first.files.push(file);
      else
        leftOut.push(
          `${oneLine(file.path)}: it looks like ${guess.kind}, but has no heading ${oneLine(lacking.heading!)}`,
        );
    }
  }
  const exports = EXPORT_KINDS.flatMap((kind) => {
    const entry = byKind.get(kind);
    return entry === undefined ? [] : [{ kind, ...entry }];
  });
  return { exports, leftOut };
}

/** The lines of one export. */
export function exportLines(entry: StarterExport, all: readonly StarterExport[]): string[] {
  const { kind, columns, files } = entry;
  const patterns = [...new Set(files.map(({ path }) => datePlace(path).glob))];
  const named = [...new Set(files.map(({ path }) => datePlace(path).template))];
  const template = named.length === 1 ? named[0] : null;
  const exported = template
    ? [`    exported: { from: name, pattern: ${yaml(template)} }   # check: when it was exported`]
    : [];
  return [
    `  ${kind}:`,
    `    files: ${patterns.length === 1 ? yaml(patterns[0]!) : `[${patterns.map(yaml).join(", ")}]`}`,
    ...exported,
    ...unitLine(entry, all),
    ...(kind === "wear"
      ? ["    clock: since new   # check: since new, since overhaul, since fitted or airframe"]
      : []),
    "    columns:   # our name: heading in the export. Check each",
    ...columns.map(({ field, heading }) => `      ${field}: ${heading === null ? FILL_IN : yaml(heading)}`),
    ...leftOverLines(entry),
  ];
}

/** Columns that the kind may have and none was guessed for, beside the headings that nothing was taken from. */
function leftOverLines({ kind, columns, files }: StarterExport): string[] {
  const taken = columns.map(({ field }) => field);
  const possible = EXPORT_COLUMNS[kind].optional.filter((field) => !taken.includes(field));
  const unused = (files[0]?.heading ?? []).filter(
    (heading) => heading !== "" && !columns.some((column) => column.heading === heading),
  );
  if (possible.length === 0 || unused.length === 0) return [];
  return [`      # also possible: ${possible.join(", ")}; headings not used: ${oneLine(unused.join(", "))}`];
}

/** How to write the block of a kind of export by hand, where files were left over and the kind is missing. */
export function byHandLines(exports: readonly StarterExport[], leftOut: readonly string[]): string[] {
  if (leftOut.length === 0) return [];
  const missing = EXPORT_KINDS.filter((kind) => !exports.some((entry) => entry.kind === kind));
  return missing.map((kind) => {
    const needed = EXPORT_COLUMNS[kind].needed.map((field) => `${field}: …`).join(", ");
    return `  # by hand: ${kind}: { files: …, columns: { ${needed} } }`;
  });
}

/** Where year and month stand in a file's name: as a pattern for all such files, and as the template of the date. */
function datePlace(path: string): { glob: string; template: string | null } {
  const name = baseName(path);
  const folder = path.slice(0, path.length - name.length);
  const match = /(19|20)\d\d(-?)(0[1-9]|1[0-2])(?:\2(0[1-9]|[12]\d|3[01]))?(?!\d)/.exec(name);
  if (match === null) return { glob: folder + name.replace(/\d+/g, "*"), template: null };
  const before = name.slice(0, match.index);
  const after = name.slice(match.index + match[0].length);
  const dashes = match[2]!;
  const template = `${before}{yyyy}${dashes}{MM}${match[4] === undefined ? "" : `${dashes}{dd}`}${after}`;
  return { glob: `${folder}${before}*${after}`, template };
}

const UNIT_IN_HEADING = /[[(]\s*(mm|um|in|thou)\s*[\])]/i;

/** The unit where neither heading nor cells give it; gaps are taken to be written as wear is, where wear says. */
function unitLine(entry: StarterExport, all: readonly StarterExport[]): string[] {
  if (entry.kind !== "wear" && entry.kind !== "gaps") return [];
  const heading = headingOf(entry, entry.kind === "wear" ? "wear" : "gap");
  if (heading === null || UNIT_IN_HEADING.test(heading)) return [];
  const cells = wordsIn(entry.files, heading).filter((cell) => /\d/.test(cell));
  if (cells.length > 0 && cells.every((cell) => /(mm|um|µm|in|thou)$/i.test(cell))) return [];
  const wear = all.find(({ kind }) => kind === "wear");
  const unit = UNIT_IN_HEADING.exec((wear && headingOf(wear, "wear")) ?? "")?.[1]?.toLowerCase();
  if (unit !== undefined)
    return [`    unit: ${unit}   # check: as the heading of wear says; this export doesn't`];
  return [`    unit: ${FILL_IN}   # mm, um, in, thou, or { column: heading }`];
}

const headingOf = ({ columns }: StarterExport, field: FieldName): string | null =>
  columns.find((column) => column.field === field)?.heading ?? null;

/** Distinct words of a field over all exports that have it. */
export function recorded(
  exports: readonly StarterExport[],
  field: FieldName,
  keep: (cell: string) => boolean = () => true,
): string[] {
  const words = exports.flatMap((entry) => {
    const heading = headingOf(entry, field);
    // A heading repeated among the rows is no word.
    return heading === null ? [] : wordsIn(entry.files, heading, (cell) => cell !== heading && keep(cell));
  });
  return [...new Set(words)];
}
