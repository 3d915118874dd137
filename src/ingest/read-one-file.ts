/** One export file from its first byte to its last: encoding, heading, rows into the raw table, hash and line counts. */
import { createHash } from "node:crypto";
import type { ExportSpec } from "../fleet/fleet.ts";
import { ExportError, type RowProblem } from "../problems.ts";
import { StreamDecoder } from "./decode.ts";
import { findHeading, type Heading } from "./find-heading.ts";
import { LineSplitter } from "./lines.ts";
import type { RawTable } from "./raw-table.ts";
import { type LineCounts, RowTaker } from "./row-taker.ts";
import { SNIFF_BYTES, sniffEncoding } from "./sniff.ts";
import type { ExportSource } from "./source.ts";

export interface FileReading {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly heading: Heading;
  readonly counts: LineCounts;
  /** Rows of the raw table that came from this file: [firstRow, endRow). */
  readonly firstRow: number;
  readonly endRow: number;
  readonly format: readonly string[];
}

/**
 * Reads a file into the raw table.
 *
 * @param file  its number in the ledger
 * Throws ExportError where the file as a whole can't be used; rows that can't go to onProblem.
 */
export async function readOneFile(
  source: ExportSource,
  path: string,
  file: number,
  spec: ExportSpec,
  raw: RawTable,
  onProblem: (problem: RowProblem) => void,
): Promise<FileReading> {
  const hash = createHash("sha256");
  let bytes = 0;
  const firstRow = raw.rows;
  const splitter = new LineSplitter();
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
    const decoder = new StreamDecoder(sniffed);
    let lines = splitter.push(decoder.decode(head.subarray(sniffed.markBytes)));
    if (ended) lines = [...lines, ...splitter.push(decoder.end()), ...splitter.end()];
    if (lines.length === 0)
      throw new ExportError(
        "E-HEADING",
        `${path}: expected a line of headings, found ${ended ? "an empty file" : "a line of over a million characters"}`,
      );
    const heading = findHeading(path, lines, spec);
    const taker = new RowTaker(spec.kind, path, file, heading, raw, onProblem);
    taker.lines(lines);
    for (let chunk = ended ? null : await next(); chunk !== null; chunk = await next())
      taker.lines(splitter.push(decoder.decode(chunk)));
    if (!ended) taker.lines([...splitter.push(decoder.end()), ...splitter.end()]);
    taker.end();
    balance(path, taker.counts);
    const format = [
      decoder.evidence,
      lineEndEvidence(splitter),
      heading.evidence,
      ...unitEvidence(spec, heading),
      ...rowEvidence(taker),
    ];
    const sha256 = hash.digest("hex");
    return { path, sha256, bytes, heading, counts: taker.counts, firstRow, endRow: raw.rows, format };
  } finally {
    await chunks.return?.(undefined);
  }
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

function lineEndEvidence({ ends }: LineSplitter): string {
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

function rowEvidence(taker: RowTaker): string[] {
  const evidence: string[] = [];
  if (taker.trailingDelimiters > 0)
    evidence.push(
      `trailing delimiters: ${taker.trailingDelimiters} rows have empty cells beyond the heading's`,
    );
  if (taker.repeatedHeadings > 0) evidence.push(`repeated headings: ${taker.repeatedHeadings}`);
  if (taker.counts.totalsLines > 0) evidence.push(`totals lines: ${taker.counts.totalsLines}`);
  return evidence;
}
