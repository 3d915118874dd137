/**
 * All exports of a fleet, read: files → raw texts → typed columns, with every line and row accounted for.
 *
 *   list files → [encoding, heading, lines → rows] per file → decimal mark and date order per file → convert
 *   → repeats → known components → checks across rows
 */
import type { ExportKind, ExportSpec, Fleet } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import { type FileLedger, NO_DAY, type ReadExports, type UnreadLine } from "../records/exports.ts";
import { type Day, monthEnd } from "../units.ts";
import { checkRows } from "./check-rows.ts";
import { ComponentRegistry, UNKNOWN_PART } from "./components.ts";
import { RowConverter } from "./convert-rows.ts";
import { type ConvertedTable, type KeptRows, keptRows, ROW } from "./converted-table.ts";
import {
  flyingRows,
  gapRows,
  installedRows,
  removalRows,
  removalsOfAnyPart,
  wearRows,
  withKnownComponents,
} from "./exports-from.ts";
import { fileDialects } from "./file-dialects.ts";
import { type FileReading, rawTable } from "./raw-table.ts";
import { IN_THIS_THREAD, type ReadingMeans, readTexts } from "./read-texts.ts";
import { markRepeats, remarkIdentical } from "./repeats.ts";
import type { ExportSource } from "./source.ts";
import { UnknownWords, wordProblem } from "./unknown-words.ts";

const KINDS: readonly ExportKind[] = ["wear", "gaps", "removals", "installed", "flying"];

interface KindReading {
  readonly table: KeptRows;
  /** Rows that must be looked at though no life is made from them. */
  readonly setAside: KeptRows;
  readonly unread: readonly UnreadLine[];
  readonly files: readonly FileLedger[];
}

export interface ReadOptions {
  /** Leaves out rows whose own column says that they were exported later. __Default value:__ null, none */
  readonly exportedBy?: Day | null;
  /** Other threads to read with, and what was read before. __Default value:__ neither */
  readonly means?: ReadingMeans;
}

/**
 * Reads every export that the fleet file names.
 *
 * @param onProblem  gets each refused row and each remark as it comes; they are not kept here
 * Throws ExportError where a file as a whole can't be used, UsageError where the fleet file doesn't fit the exports.
 */
export async function readExports(
  fleet: Fleet,
  source: ExportSource,
  onProblem: (problem: RowProblem) => void,
  { exportedBy = null, means = IN_THIS_THREAD }: ReadOptions = {},
): Promise<ReadExports> {
  const registry = new ComponentRegistry();
  const unknown = new UnknownWords();
  const read: Partial<Record<ExportKind, KindReading>> = {};
  const files: FileLedger[] = [];
  for (const kind of KINDS) {
    const spec = fleet.exports[kind];
    if (spec === undefined) continue;
    const shared = { fleet, source, registry, unknown, exportedBy, means, onProblem };
    const reading = await readKind(spec, files.length, shared);
    files.push(...reading.files);
    read[kind] = reading;
  }
  for (const word of unknown.list()) onProblem(wordProblem(word));
  const { table: components, place } = registry.known();
  const columns = <T>(kind: ExportKind, build: (table: KeptRows) => T): T | null => {
    const table = read[kind]?.table;
    return table === undefined ? null : build(withKnownComponents(table, place));
  };
  const exports: ReadExports = {
    files,
    components,
    wear: columns("wear", wearRows),
    gaps: columns("gaps", gapRows),
    removals: columns("removals", removalRows),
    installed: columns("installed", installedRows),
    flying: columns("flying", flyingRows),
    setAside: {
      wear: read.wear === undefined ? null : wearRows(withKnownComponents(read.wear.setAside, place)),
      removals: read.removals === undefined ? null : removalsOfAnyPart(read.removals.setAside, place),
      unreadRemovals: read.removals?.unread ?? [],
    },
    unknownWords: unknown.list(),
    latestDay: latestDay(Object.values(read).map(({ table }) => table)),
  };
  checkRows(exports, fleet, onProblem);
  return exports;
}

/** What the reading of all kinds shares. */
interface SharedReading {
  readonly fleet: Fleet;
  readonly source: ExportSource;
  readonly registry: ComponentRegistry;
  readonly unknown: UnknownWords;
  readonly exportedBy: Day | null;
  readonly means: ReadingMeans;
  readonly onProblem: (problem: RowProblem) => void;
}

async function readKind(spec: ExportSpec, firstFile: number, shared: SharedReading): Promise<KindReading> {
  const { fleet, source, registry, unknown, exportedBy, means, onProblem } = shared;
  const texts = await readTexts(source, spec, means, onProblem);
  const raw = rawTable(spec, texts, firstFile);
  const { files } = raw;
  const dialects = fileDialects(spec, raw, files);
  const converter = new RowConverter({ fleet, spec, raw, files, firstFile, dialects, registry, onProblem });
  const table = converter.run();
  const fileName = (row: number): string => files[table.file[row]! - firstFile]!.path;
  if (exportedBy !== null) leaveOutLater(table, exportedBy);
  markRepeats(table, fileName, onProblem);
  remarkIdentical(table, fileName, onProblem);
  converter.countWords(table, unknown);
  const ledgers = files.map((file, at) => ledgerOf(file, spec.kind, table, dialects[at]!.evidence));
  const unread = texts.flatMap(({ texts: { problems } }, at) =>
    problems.map(({ line }) => ({ file: firstFile + at, line, exported: ledgers[at]!.exported ?? NO_DAY })),
  );
  return {
    table: keptRows(table, (row) => table.state[row] === ROW.accepted),
    setAside: keptRows(table, (row) => isSetAside(table, row, registry)),
    unread,
    files: ledgers,
  };
}

/** A refused look or removal, or a removal of a part that the fleet file doesn't know. */
function isSetAside({ kind, state, columns }: ConvertedTable, row: number, { parts }: ComponentRegistry) {
  if (kind !== "wear" && kind !== "removals") return false;
  if (state[row] === ROW.rejected) return true;
  const ofOtherPart = kind === "removals" && parts[columns.component![row]!] === UNKNOWN_PART;
  return ofOtherPart && state[row] === ROW.accepted;
}

/** A row exported after a day, good or bad, was not there on that day. */
function leaveOutLater({ rows, state, exported }: ConvertedTable, day: Day): void {
  for (let row = 0; row < rows; row++) if (exported[row]! > day) state[row] = ROW.later;
}

/** What became of a file's lines and rows. */
function ledgerOf(
  file: FileReading,
  kind: ExportKind,
  table: ConvertedTable,
  evidence: readonly string[],
): FileLedger {
  const states = [0, 0, 0, 0, 0];
  let unassigned = 0;
  let exported = NO_DAY;
  for (let row = file.firstRow; row < file.endRow; row++) {
    const state = table.state[row]!;
    states[state]!++;
    if (state === ROW.later) continue;
    if (state === ROW.accepted) unassigned += table.unassigned[row]!;
    exported = Math.max(exported, table.exported[row]!);
  }
  const { counts } = file;
  const rejected = counts.rejected + states[ROW.rejected]!;
  const accepted = states[ROW.accepted]!;
  const identical = states[ROW.identical]!;
  const superseded = states[ROW.superseded]!;
  const read = counts.read - states[ROW.later]!;
  if (read !== accepted + rejected + identical + superseded)
    throw new Error(
      `${file.path}: the ledger of rows doesn't balance: ${JSON.stringify({ counts, states })}`,
    );
  const { lines, headingLines, blankLines, totalsLines, rowLines } = counts;
  return {
    file: file.path,
    kind,
    sha256: file.sha256,
    bytes: file.bytes,
    exported: exported === NO_DAY ? null : exported,
    ...{ lines, headingLines, blankLines, totalsLines, rowLines, read },
    ...{ accepted, rejected, identical, superseded, unassigned },
    format: [...file.format, ...evidence],
  };
}

/** Latest date of any row; a month of flying lasts to its end. */
function latestDay(tables: readonly KeptRows[]): Day | null {
  let latest = NO_DAY;
  for (const { columns } of tables) {
    for (const name of ["day", "installedOn", "month"]) {
      const column = columns[name];
      if (column === undefined) continue;
      let last = NO_DAY;
      for (const day of column) last = Math.max(last, day);
      if (last !== NO_DAY) latest = Math.max(latest, name === "month" ? monthEnd(last) : last);
    }
  }
  return latest === NO_DAY ? null : latest;
}
