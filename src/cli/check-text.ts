/** What `check` found, set so that a person reads it in a minute; every file by itself only where asked for. */
import { describeProblem, PROBLEM_CODES } from "../problems.ts";
import type { FileLedger, ReadExports } from "../records/exports.ts";
import type { EnvironmentSource } from "../records/life.ts";
import { readAlike } from "../records/read-alike.ts";
import { type SettledLedger, settleRows } from "../records/settle-rows.ts";
import { isoDate } from "../units.ts";
import type { CheckedJoins } from "./checked-joins.ts";
import type { ProblemGroup } from "./problem-groups.ts";

export interface Checked {
  readonly fleet: string;
  readonly read: ReadExports;
  readonly groups: readonly ProblemGroup[];
  /** null: no month could be reported, so no lives were made. */
  readonly joins: CheckedJoins | null;
}

/** @param everyFile  the ledger of each file, not only of each kind */
export function checkText(checked: Checked, everyFile: boolean): string {
  const { read, groups, joins } = checked;
  const files = settleRows(read, joins?.asOf ?? Number.POSITIVE_INFINITY);
  return [
    `${checked.fleet}: ${counted(read.files.length, "file")}, ${counted(read.components.count, "component")}`,
    section("Rows", rowsText(files)),
    everyFile ? files.map(ledgerText).join("\n") : "",
    section("Refused", problemsText(groups, "E")),
    section("Remarked on", problemsText(groups, "W")),
    section("Words that the fleet file doesn't know (their rows are unassigned)", wordsText(read)),
    section("How files were read", formatsText(read.files)),
    joins === null ? "" : section("Joined to lives", joinsText(joins, read)),
  ]
    .filter((text) => text !== "")
    .join("\n\n");
}

const section = (title: string, lines: readonly string[]): string =>
  lines.length === 0 ? "" : [title, ...lines.map((line) => `  ${line}`)].join("\n");

const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? "" : "s"}`;

/** Members of a ledger and what they are called here. */
const COUNTS = {
  read: "read",
  accepted: "accepted",
  rejected: "rejected",
  identical: "identical",
  superseded: "superseded",
  used: "used",
  unassigned: "unassigned",
  afterAsOf: "after as-of",
  lines: "lines",
  headingLines: "headings",
  blankLines: "blank",
  totalsLines: "totals",
  rowLines: "of rows",
} as const;
type Count = keyof typeof COUNTS;

/** One line a kind, and their sum. */
function rowsText(files: readonly SettledLedger[]): string[] {
  const kinds = [...new Set(files.map(({ kind }) => kind))];
  const sum = (own: readonly SettledLedger[], key: Count): number =>
    own.reduce((total, file) => total + file[key], 0);
  const line = (name: string, own: readonly SettledLedger[]): string[] => [
    name,
    String(own.length),
    ...(Object.keys(COUNTS) as Count[]).map((key) => String(sum(own, key))),
  ];
  const rows = kinds.map((kind) =>
    line(
      kind,
      files.filter((file) => file.kind === kind),
    ),
  );
  return [
    ...aligned([
      ["", "files", ...Object.values(COUNTS)],
      ...rows,
      ...(rows.length > 1 ? [line("all", files)] : []),
    ]),
    "read = accepted + rejected + identical + superseded; accepted = used + unassigned + after as-of;",
    "lines = headings + blank + totals + lines of rows",
  ];
}

/** Columns of a table: the first to the left, numbers to the right. */
function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, at) => Math.max(...rows.map((row) => row[at]!.length)));
  return rows.map((row) =>
    row.map((cell, at) => (at === 0 ? cell.padEnd(widths[0]!) : cell.padStart(widths[at]!))).join("  "),
  );
}

function ledgerText(ledger: SettledLedger): string {
  const { lines, headingLines, blankLines, totalsLines, rowLines, read, accepted, rejected } = ledger;
  const exported = ledger.exported === null ? "" : `, exported ${isoDate(ledger.exported)}`;
  return [
    `${ledger.file} (${ledger.kind}${exported})`,
    `  read ${read} = accepted ${accepted} + rejected ${rejected} + repeated ${ledger.identical + ledger.superseded} (${ledger.identical} identical, ${ledger.superseded} superseded); unassigned ${ledger.unassigned}, after as-of ${ledger.afterAsOf}`,
    `  lines ${lines} = headings ${headingLines} + blank ${blankLines} + totals ${totalsLines} + rows ${rowLines}`,
  ].join("\n");
}

function problemsText(groups: readonly ProblemGroup[], kind: "E" | "W"): string[] {
  return groups
    .filter(({ code }) => code.startsWith(`${kind}-`) && code !== "W-UNKNOWN-WORD")
    .flatMap((group) => {
      const more = group.count - group.examples.length;
      return [
        `${group.code} ${counted(group.count, "time")} in ${counted(group.files.size, "file")}: ${PROBLEM_CODES[group.code]}`,
        ...group.examples.map((problem) => `  ${withoutCode(describeProblem(problem))}`),
        ...(more > 0 ? [`  … and ${more} more`] : []),
      ];
    });
}

const withoutCode = (text: string): string => text.replace(/ \[[A-Z-]+\]$/, "");

function wordsText(read: ReadExports): string[] {
  return read.unknownWords.map((word) => {
    const near = word.near === null ? "" : `; did you mean ${JSON.stringify(word.near)}?`;
    return `${JSON.stringify(word.word)} ${counted(word.count, "time")} under ${word.kind} ${word.column}, first at ${word.firstFile}:${word.firstLine}; add it under ${word.section}${near}`;
  });
}

const FILES_NAMED = 2;

function formatsText(files: readonly FileLedger[]): string[] {
  const said = new Map<string, ReadonlySet<string>>();
  return readAlike(files).flatMap((alike) => {
    const [{ kind, format }] = alike as [FileLedger];
    const named = alike.slice(0, FILES_NAMED).map(({ file }) => file);
    const more = alike.length - named.length;
    // The first files of a kind in full, of the others only what is otherwise.
    const before = said.get(kind);
    if (before === undefined) said.set(kind, new Set(format.map(bare)));
    return [
      `${kind}: ${named.join(", ")}${more > 0 ? ` and ${more} more read alike` : ""}${before ? ", as those above but for:" : ""}`,
      ...format.filter((line) => !before?.has(bare(line))).map((line) => `  ${line}`),
    ];
  });
}

const bare = (line: string): string => line.replace(/\d+/g, "#");

const PLACED_BY: Readonly<Record<EnvironmentSource, string>> = {
  flying: "hours flown",
  base: "the fitted aircraft's base",
  "later reading": "the later reading only",
};

function joinsText(joins: CheckedJoins, read: ReadExports): string[] {
  const placed = Object.entries(PLACED_BY).map(
    ([source, words]) => `${joins.environmentFrom[source as EnvironmentSource]} by ${words}`,
  );
  const where = ({ file, line }: { file: number; line: number }): string =>
    `${read.files[file]!.file}:${line}`;
  return [
    `as of ${isoDate(joins.asOf)}: ${counted(joins.pieces, "piece")} of life of ${counted(joins.components, "component")}`,
    ...(joins.pieces === 0 ? [] : [`environment of their hours: ${placed.join(", ")}`]),
    ...joins.leftOut.map(
      ({ reason, rows, components, first }) =>
        `left out of the lives, ${counted(rows, "row")} of ${counted(components, "component")}: ${reason}; first ${where(first)}`,
    ),
    ...(joins.gaps === null ? [] : [`seal gaps: ${counted(joins.gaps.joined, "row")} joined to a component`]),
    ...(joins.gaps?.notJoined ?? []).map(
      ([reason, rows]) => `seal gaps not joined, ${counted(rows, "row")}: ${reason}`,
    ),
  ];
}
