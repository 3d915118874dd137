/**
 * The same record twice: within a file, across overlapping exports, or corrected later.
 *
 * Rows with equal keys are records of the same thing. Of these the latest export's value counts: earlier rows are
 * superseded, or identical where they say the same. Where the latest rows disagree with each other nobody can tell which
 * is right, and all of them are refused; but of looks that differ in the reading alone the largest counts, since that the
 * component was looked at is not in doubt, and a worn one must not pass for one that nobody looked at.
 */
import type { RowProblem } from "../problems.ts";
import { LOOK, NO_DAY } from "../records/exports.ts";
import { type ConvertedTable, ROW } from "./converted-table.ts";
import { KEY_COLUMNS, ORDER_COLUMNS } from "./kinds.ts";

const NONE = -1;

/** Sets the state of every repeated row; columns stay as they are. */
export function markRepeats(
  table: ConvertedTable,
  fileName: (row: number) => string,
  onProblem: (problem: RowProblem) => void,
): void {
  const keys = KEY_COLUMNS[table.kind].map((name) => table.columns[name]!);
  const { first, next } = chains(table, keys, outOfOrder(table));
  if (next === null) return;
  for (const row of first) if (next[row] !== NONE) settle(table, row, next, fileName, onProblem);
}

/**
 * The accepted rows of all whose rows are not each on a later day than the one before, in order of reading: no other can
 * have a key twice, and as exports are in order of time, these are few.
 */
function outOfOrder(table: ConvertedTable): Int32Array {
  const { rows, state } = table;
  const { whose, day } = ORDER_COLUMNS[table.kind];
  const owner = table.columns[whose]!;
  const days = table.columns[day]!;
  let owners = 0;
  for (const number of owner) owners = Math.max(owners, number + 1);
  const lastDay = new Int32Array(owners).fill(NO_DAY);
  const isMixed = new Uint8Array(owners);
  let count = 0;
  for (let row = 0; row < rows; row++) {
    const number = owner[row]!;
    if (number < 0 || state[row] !== ROW.accepted) continue;
    if (days[row]! > lastDay[number]!) lastDay[number] = days[row]!;
    else isMixed[number] = 1;
  }
  const found = new Int32Array(rows);
  for (let row = 0; row < rows; row++) {
    if (state[row] !== ROW.accepted) continue;
    const number = owner[row]!;
    if (number < 0 || isMixed[number] === 1) found[count++] = row;
  }
  return found.subarray(0, count);
}

/**
 * Those of some rows that have equal keys, chained: `first` of each key in order of reading, `next` of each row, null where
 * all keys differ. Open addressing over row numbers: no strings, no objects.
 */
function chains(
  table: ConvertedTable,
  keys: readonly ArrayLike<number>[],
  rows: Int32Array,
): { first: Int32Array; next: Int32Array | null } {
  let size = 1024;
  while (size < rows.length * 2) size *= 2;
  const slots = new Int32Array(size).fill(NONE);
  const first = new Int32Array(rows.length);
  const last = new Int32Array(table.rows);
  let next: Int32Array | null = null;
  let count = 0;
  for (const row of rows) {
    let slot = hash(keys, row) & (size - 1);
    while (slots[slot] !== NONE && !equal(keys, slots[slot]!, row)) slot = (slot + 1) & (size - 1);
    const head = slots[slot]!;
    if (head === NONE) {
      slots[slot] = row;
      last[row] = row;
      first[count++] = row;
    } else {
      next ??= new Int32Array(table.rows).fill(NONE);
      next[last[head]!] = row;
      last[head] = row;
    }
  }
  return { first: first.subarray(0, count), next };
}

/** Mixing after MurmurHash3's finaliser (Appleby, public domain), from memory; only speed depends on it. */
function hash(keys: readonly ArrayLike<number>[], row: number): number {
  let h = 0x9e3779b9;
  for (const key of keys) {
    h = Math.imul(h ^ (key[row]! | 0), 0x85ebca6b);
    h ^= h >>> 13;
    h = Math.imul(h, 0xc2b2ae35);
    h ^= h >>> 16;
  }
  return h >>> 0;
}

const equal = (columns: readonly ArrayLike<number>[], a: number, b: number): boolean =>
  columns.every((column) => Object.is(column[a], column[b]));

/** Decides among the rows of one key. */
function settle(
  table: ConvertedTable,
  head: number,
  next: Int32Array,
  fileName: (row: number) => string,
  onProblem: (problem: RowProblem) => void,
): void {
  const rows: number[] = [];
  for (let row = head; row !== NONE; row = next[row]!) rows.push(row);
  const values = [...Object.values(table.columns), table.unassigned];
  const latest = rows.reduce((day, row) => Math.max(day, table.exported[row]!), table.exported[head]!);
  const newest = rows.filter((row) => table.exported[row] === latest);
  const different = newest.find((row) => !equal(values, row, newest[0]!));
  const agreed = different === undefined;
  const kept = agreed
    ? firstExported(table, rows, (row) => equal(values, row, newest[0]!))
    : largestReading(table, newest);
  const where = (row: number): string => `${fileName(row)}:${table.line[row]}`;
  for (const row of rows) {
    if (row === kept) continue;
    const other = equal(values, row, newest[0]!) ? (different ?? newest[0]!) : newest[0]!;
    const found = `a row with other values than ${where(other)}`;
    const problem = { file: fileName(row), line: table.line[row]!, column: null, found };
    if (table.exported[row] === latest && !agreed) {
      table.state[row] = ROW.rejected;
      const mend =
        "set exported in the fleet file, so that the later export's value counts, or mend the export";
      const hint = kept === NONE ? mend : `${mend}; until then the largest reading counts (${where(kept)})`;
      onProblem({ ...problem, code: "E-CONFLICT", expected: "one row for each key, or equal ones", hint });
    } else if (agreed && equal(values, row, kept)) table.state[row] = ROW.identical;
    else {
      table.state[row] = ROW.superseded;
      onProblem({
        ...problem,
        code: "W-REPEATED",
        expected: "one row for each key",
        hint: "superseded: the later export's value counts",
      });
    }
  }
}

/** Of looks that differ in their readings alone the one with the largest; NONE where they differ otherwise. */
function largestReading({ kind, columns, unassigned }: ConvertedTable, rows: readonly number[]): number {
  if (kind !== "wear") return NONE;
  const { wearMm, look, ...others } = columns;
  const said = [...Object.values(others), unassigned];
  const isReading = (row: number) => look![row] === LOOK.number && equal(said, row, rows[0]!);
  if (!rows.every(isReading)) return NONE;
  return rows.reduce((worst, row) => (wearMm![row]! > wearMm![worst]! ? row : worst));
}

/** Of equal rows the one that was exported first counts, in reading order where that is not known. */
function firstExported(
  table: ConvertedTable,
  rows: readonly number[],
  among: (row: number) => boolean,
): number {
  return rows
    .filter(among)
    .reduce((best, row) => (table.exported[row]! < table.exported[best]! ? row : best));
}

/** One remark for each file with identical repeats, at the first of them. */
export function remarkIdentical(
  table: ConvertedTable,
  fileName: (row: number) => string,
  onProblem: (problem: RowProblem) => void,
): void {
  const byFile = new Map<number, { first: number; count: number }>();
  for (let row = 0; row < table.rows; row++) {
    if (table.state[row] !== ROW.identical) continue;
    const seen = byFile.get(table.file[row]!);
    if (seen === undefined) byFile.set(table.file[row]!, { first: row, count: 1 });
    else seen.count++;
  }
  for (const { first, count } of byFile.values()) {
    onProblem({
      code: "W-REPEATED",
      file: fileName(first),
      line: table.line[first]!,
      column: null,
      expected: "each row once",
      found: `${count === 1 ? "a row that stands" : `${count} rows that stand`} elsewhere with the same values`,
      hint: "counted once; this is the first of them in this file",
    });
  }
}
