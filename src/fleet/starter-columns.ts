/** Which export a file is, and which of its headings is what: guesses for a first fleet file, to be checked by a person. */
import type { ExportKind, FieldName } from "./fleet.ts";
import { EXPORT_COLUMNS } from "./schema-exports.ts";

/** What was seen of one file. */
export interface SeenFile {
  /** Relative to the folder that the fleet file will be in, with forward slashes. */
  readonly path: string;
  readonly heading: readonly string[];
  /** Cells of some or all rows below the heading. */
  readonly sampleRows: readonly (readonly string[])[];
}

/** A field, and the heading taken for it; null where the field is needed and no heading looks like it. */
export interface GuessedColumn {
  readonly field: FieldName;
  readonly heading: string | null;
}

export interface GuessedExport {
  readonly kind: ExportKind;
  readonly columns: readonly GuessedColumn[];
}

/**
 * Words of headings by field, the surest first. A heading is compared in lower case without units and punctuation;
 * whole headings count more than a word inside one.
 */
const HEADING_WORDS: Readonly<Record<FieldName, readonly string[]>> = {
  component: ["serial", "serial no", "serial number", "ser no", "s n", "sn", "component", "component serial"],
  part: ["part no", "part number", "part", "p n", "pn"],
  date: [
    "date",
    "inspected",
    "removed",
    "measured",
    "checked",
    "looked at",
    "inspection date",
    "removal date",
    "date off",
    "day",
  ],
  hours: ["hours", "flight hours", "hours flown", "flown", "hrs", "fh", "tsn", "tso", "component hours"],
  wear: ["wear", "wear reading", "liner wear", "play", "worn"],
  gap: ["gap", "seal gap", "ring gap", "clearance"],
  state: ["state", "as", "found left", "as found left", "when"],
  aircraft: ["aircraft", "tail", "tail no", "registration", "reg", "a c", "helicopter"],
  position: ["position", "arm", "pos", "blade", "location"],
  environment: ["environment", "base", "station", "site", "area", "region", "location"],
  standard: [
    "standard",
    "ring",
    "std",
    "seal standard",
    "ring standard",
    "configuration",
    "mod standard",
    "modification",
    "seal type",
    "ring type",
  ],
  cause: ["cause", "reason", "removal cause", "removal reason", "reason for removal", "code", "why"],
  found: ["found", "found at", "how found", "came to light", "discovered"],
  finding: ["finding", "shop finding", "shop", "workshop finding"],
  installed_on: [
    "installed on",
    "installed",
    "fitted on",
    "fitted",
    "since",
    "installation date",
    "fit date",
  ],
  hours_at_installation: [
    "hours at installation",
    "hours at fit",
    "hours at fitting",
    "hours when fitted",
    "fitted at",
    "hours when installed",
    "hours fitted",
    "hours installed",
    "tsn when fitted",
    "tsn when installed",
    "tsn at installation",
    "tsn at fitting",
    "fh at installation",
    "fh when fitted",
  ],
  hours_now: ["hours now", "current hours", "present hours", "tsn now", "fh now", "now"],
  month: ["month", "period"],
};

/** A word of a file's name that tells what it is. */
const NAME_WORDS: Readonly<Record<ExportKind, RegExp>> = {
  wear: /wear|inspect|reading/i,
  gaps: /gap|seal/i,
  removals: /remov/i,
  installed: /instal|fitted|roster/i,
  flying: /fly|flown|flight|utili[sz]ation/i,
};

/** Fields that only one kind of export has: what a file is called counts less than these. */
const TELLING: Readonly<Record<ExportKind, readonly FieldName[]>> = {
  wear: ["wear"],
  gaps: ["gap"],
  removals: ["cause"],
  installed: ["installed_on", "hours_at_installation"],
  flying: ["month"],
};

/** What a file is, with its columns; null where no kind of export is likely. */
export function guessExport(file: SeenFile): GuessedExport | null {
  let best: { kind: ExportKind; score: number; columns: GuessedColumn[] } | null = null;
  for (const kind of ["wear", "gaps", "removals", "installed", "flying"] as const) {
    const columns = guessColumns(kind, file.heading);
    const has = (field: FieldName) =>
      columns.some((column) => column.field === field && column.heading !== null);
    if (!TELLING[kind].some(has)) continue;
    const missing = EXPORT_COLUMNS[kind].needed.filter((field) => !has(field)).length;
    const score = columns.length - 4 * missing + (NAME_WORDS[kind].test(baseName(file.path)) ? 3 : 0);
    if (best === null || score > best.score) best = { kind, score, columns };
  }
  return best === null ? null : { kind: best.kind, columns: best.columns };
}

/** The file's name without its folders. */
export const baseName = (path: string): string => path.slice(path.lastIndexOf("/") + 1);

/** Headings for the fields of a kind: the likeliest pairs first, each heading once. */
function guessColumns(kind: ExportKind, heading: readonly string[]): GuessedColumn[] {
  const { needed, optional } = EXPORT_COLUMNS[kind];
  const fields: readonly FieldName[] = [...needed, ...optional];
  const pairs = fields
    .flatMap((field, rank) => heading.map((text) => ({ field, rank, text, likeness: likeness(field, text) })))
    .filter((pair) => pair.likeness > 0)
    .sort((a, b) => b.likeness - a.likeness || a.rank - b.rank);
  const taken = new Map<FieldName, string>();
  const used = new Set<string>();
  for (const { field, text } of pairs) {
    if (taken.has(field) || used.has(text)) continue;
    taken.set(field, text);
    used.add(text);
  }
  return fields
    .filter((field) => taken.has(field) || needed.some((name) => name === field))
    .map((field) => ({ field, heading: taken.get(field) ?? null }));
}

/** The words of a heading: lower case, without what stands in brackets, and without punctuation. */
const plainHeading = (heading: string): string =>
  heading
    .toLowerCase()
    .replace(/[[(].*?[\])]/g, " ")
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();

/** How well a heading fits a field: 0 not at all; whole headings before words inside, sure words before others. */
function likeness(field: FieldName, heading: string): number {
  const plain = plainHeading(heading);
  const words = HEADING_WORDS[field];
  const whole = words.indexOf(plain);
  if (whole >= 0) return 100 - whole;
  const inside = words.findIndex((word) => word.length > 2 && ` ${plain} `.includes(` ${word} `));
  return inside >= 0 ? 50 - inside + words[inside]!.length / 10 : 0;
}
