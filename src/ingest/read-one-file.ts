/** One export file from its first byte to its last: encoding, heading, its rows as texts, hash and line counts. */
import { createHash } from "node:crypto";
import type { ExportSpec } from "../fleet/fleet.ts";
import { ExportError } from "../problems.ts";
import { type BlockPool, BlockRefused } from "./block-pool.ts";
import { StreamDecoder } from "./decode.ts";
import type { FileAssembly } from "./file-assembly.ts";
import type { FileTexts, LineCounts } from "./file-texts.ts";
import { findHeading, type Heading } from "./find-heading.ts";
import { type LineEnds, LineSplitter } from "./lines.ts";
import { readPieces } from "./read-pieces.ts";
import { SNIFF_BYTES, type SniffedEncoding, sniffEncoding } from "./sniff.ts";
import type { ExportSource } from "./source.ts";

/**
 * Reads a file.
 *
 * @param pool  who else reads blocks of it; null: nobody
 * Throws ExportError where the file as a whole can't be used; rows that can't are among its problems.
 */
export async function readOneFile(
  source: ExportSource,
  path: string,
  spec: ExportSpec,
  pool: BlockPool | null,
): Promise<FileTexts> {
  try {
    return await readOnce(source, path, spec, pool);
  } catch (error) {
    if (!(error instanceof BlockRefused)) throw error;
    // Read in order, the file says itself what is wrong with it, and on which line.
    return readOnce(source, path, spec, null);
  }
}

async function readOnce(
  source: ExportSource,
  path: string,
  spec: ExportSpec,
  pool: BlockPool | null,
): Promise<FileTexts> {
  const hash = createHash("sha256");
  let bytes = 0;
  const chunks = source.open(path)[Symbol.asyncIterator]();
  const next = async (): Promise<Uint8Array | null> => {
    const { done, value } = await chunks.next();
    if (done) return null;
    hash.update(value);
    bytes += value.length;
    return value;
  };
  try {
    const { head, ended } = await firstMegabyte(next);
    const sniffed = sniffEncoding(path, head, spec.format.encoding, ended);
    const text = head.subarray(sniffed.markBytes);
    const heading = findHeading(path, linesOf(path, text, sniffed, ended), spec);
    const setup = { kind: spec.kind, path, heading };
    const { assembly, encodingEvidence } = await readPieces(setup, sniffed, text, next, pool);
    balance(path, assembly.counts);
    const format = [
      encodingEvidence,
      lineEndEvidence(assembly.ends),
      heading.evidence,
      ...unitEvidence(spec, heading),
      ...rowEvidence(assembly),
    ];
    return assembly.done({ sha256: hash.digest("hex"), bytes, heading, format });
  } finally {
    await chunks.return?.(undefined);
  }
}

/** The first lines of a file, which hold its heading. */
function linesOf(path: string, head: Uint8Array, sniffed: SniffedEncoding, ended: boolean): string[] {
  const decoder = new StreamDecoder(sniffed);
  const splitter = new LineSplitter();
  const lines = splitter.push(decoder.decode(head));
  if (ended) lines.push(...splitter.push(decoder.end()), ...splitter.end());
  if (lines.length === 0)
    throw new ExportError(
      "E-HEADING",
      `${path}: expected a line of headings, found ${ended ? "an empty file" : "a line of over a million characters"}`,
    );
  return lines;
}

async function firstMegabyte(
  next: () => Promise<Uint8Array | null>,
): Promise<{ head: Uint8Array; ended: boolean }> {
  const parts: Uint8Array[] = [];
  let length = 0;
  while (length < SNIFF_BYTES) {
    const chunk = await next();
    if (chunk === null) return { head: Buffer.concat(parts), ended: true };
    parts.push(chunk);
    length += chunk.length;
  }
  return { head: Buffer.concat(parts), ended: false };
}

/** Every physical line is accounted for; anything else is a bug of ours, never of the file. */
function balance(path: string, counts: LineCounts): void {
  const { lines, headingLines, blankLines, totalsLines, rowLines } = counts;
  if (lines !== headingLines + blankLines + totalsLines + rowLines)
    throw new Error(`${path}: the ledger doesn't balance to the physical line: ${JSON.stringify(counts)}`);
}

function lineEndEvidence(ends: LineEnds): string {
  const parts = [
    [ends.crlf, "CRLF"],
    [ends.lf, "LF"],
    [ends.cr, "CR"],
  ] as const;
  const used = parts.filter(([count]) => count > 0).map(([count, name]) => `${count} ${name}`);
  return `line ends: ${used.length === 0 ? "none" : used.join(", ")}${used.length > 1 ? " (mixed)" : ""}`;
}

/** Where the unit of wear or gaps comes from; a unit in a cell counts before all of them. */
function unitEvidence(spec: ExportSpec, heading: Heading): string[] {
  const measured = heading.columns.find(({ role }) => role === "wear" || role === "gap");
  if (measured === undefined) return [];
  if (spec.unit !== null && typeof spec.unit === "object")
    return [`unit: as column ${JSON.stringify(spec.unit.column)} says, row by row`];
  if (heading.unit !== null)
    return [`unit ${heading.unit}: the heading ${JSON.stringify(measured.heading)} says so`];
  return [spec.unit === null ? "unit: as each cell says" : `unit ${spec.unit}: set in the fleet file`];
}

function rowEvidence(file: FileAssembly): string[] {
  const evidence: string[] = [];
  if (file.trailingDelimiters > 0)
    evidence.push(
      `trailing delimiters: ${file.trailingDelimiters} rows have empty cells beyond the heading's`,
    );
  if (file.repeatedHeadings > 0) evidence.push(`repeated headings: ${file.repeatedHeadings}`);
  if (file.counts.totalsLines > 0) evidence.push(`totals lines: ${file.counts.totalsLines}`);
  return evidence;
}
