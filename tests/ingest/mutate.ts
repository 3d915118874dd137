/** Exports with some lines spoilt, and what must hold of reading them: shared by the quick test and the long one. */
import { expect } from "vitest";
import { type Random, seededRandom } from "../../src/math/random.ts";
import { RotorwearError } from "../../src/problems.ts";
import { readWear } from "./support.ts";

interface Row {
  readonly serial: string;
  readonly hours: number;
  readonly wearMm: number;
  readonly line: string;
}

export interface Tally {
  tried: number;
  /** Files refused as a whole, with a documented error. */
  refused: number;
  /** Untouched rows in files that were read, and how many of them are neither read nor told about. */
  rows: number;
  lost: number;
}

const ROWS = 30;

function table(random: Random): Row[] {
  return Array.from({ length: ROWS }, (_, at) => {
    const hours = 100 * at + random.below(900) / 10;
    const wearMm = random.below(500) / 1000;
    const serial = `SN${String(1000 + at)}`;
    const date = `2026-0${1 + random.below(9)}-1${random.below(10)}`;
    return { serial, hours, wearMm, line: `${serial},${date},${hours.toFixed(1)},${wearMm.toFixed(3)},ok` };
  });
}

const SPLINTERS = [
  ...[
    '"',
    '""',
    ",",
    ";",
    "\t",
    "|",
    "\0",
    "\x1b",
    "\r",
    "\n",
    "\r\n",
    "=",
    "-",
    "@",
    "'",
    " ",
    "\ufeff",
    "\ufffd",
  ],
  ...[
    "\u00e9",
    "\u{1f681}",
    "1e309",
    "NaN",
    "0x10",
    "<script>",
    ",,",
    '","',
    "x".repeat(3000),
    '"\n"',
    "Total",
    "32.13.2026",
  ],
];

/** One line spoilt in one of many ways. */
function spoilt(line: string, random: Random): string {
  const at = random.below(line.length + 1);
  switch (random.below(6)) {
    case 0:
    case 1:
      return line.slice(0, at) + SPLINTERS[random.below(SPLINTERS.length)]! + line.slice(at);
    case 2:
      return line.slice(0, at) + line.slice(at + 1 + random.below(4));
    case 3:
      return line.slice(0, at);
    case 4:
      return `${line}\n${line.slice(0, -3)}9,ok`;
    default:
      return Array.from(line, (c) =>
        random.uniform() < 0.2 ? SPLINTERS[random.below(SPLINTERS.length)]! : c,
      ).join("");
  }
}

/** Reads one mutant; throws (through expect) where a promise of reading is broken. */
export async function tryMutant(seed: number, tally: Tally): Promise<void> {
  const random = seededRandom(seed);
  const rows = table(random);
  const touched = new Set(Array.from({ length: 1 + random.below(5) }, () => random.below(ROWS)));
  const lines = rows.map(({ line }, at) => (touched.has(at) ? spoilt(line, random) : line));
  const text = `Serial,Date,Hours,Wear,Remark\n${lines.join("\n")}\n`;
  tally.tried++;
  const chunkBytes = 1 + random.below(4000);
  const reading = await readWear(text, undefined, chunkBytes).catch((error: unknown) => {
    if (error instanceof RotorwearError && (error.exitCode === 2 || error.exitCode === 3)) return null;
    throw error;
  });
  if (reading === null) {
    tally.refused++;
    return;
  }
  const { exports, problems } = reading;
  const ledger = exports.files[0]!;
  expect(ledger.lines).toBe(physicalLines(text));
  expect(ledger.headingLines + ledger.blankLines + ledger.totalsLines + ledger.rowLines).toBe(ledger.lines);
  expect(ledger.accepted + ledger.rejected + ledger.identical + ledger.superseded).toBe(ledger.read);
  const refusedLines = new Set(problems.filter(({ code }) => code.startsWith("E-")).map(({ line }) => line));
  expect(refusedLines.size).toBe(ledger.rejected);
  const wear = exports.wear!;
  const read = new Set(
    Array.from(
      wear.line,
      (_, row) => `${exports.components.serial[wear.component[row]!]} ${wear.hours[row]} ${wear.wearMm[row]}`,
    ),
  );
  rows.forEach((row, at) => {
    if (touched.has(at)) return;
    tally.rows++;
    const told = problems.some(({ found, code }) => found.includes(row.serial) || code === "E-CONFLICT");
    if (!read.has(`${row.serial} ${row.hours} ${row.wearMm}`) && !told) tally.lost++;
  });
}

/** Line ends counted the slow way; a last line without an end counts too. */
export function physicalLines(text: string): number {
  const parts = text.split(/\r\n|\n|\r/);
  return parts.at(-1) === "" ? parts.length - 1 : parts.length;
}
