/** Physical lines of exports as they were recorded, for showing beside the values that were used. */
import type { ExportFormat } from "../fleet/fleet.ts";
import { StreamDecoder } from "../ingest/decode.ts";
import { LineSplitter } from "../ingest/lines.ts";
import { SNIFF_BYTES, sniffEncoding } from "../ingest/sniff.ts";
import type { ExportSource } from "../ingest/source.ts";

/**
 * Texts of some lines of an export, by their numbers from 1: those wanted, and those that `names` finds. Reads the file
 * once, and decodes it as the reader does. A row whose cells hold line ends is shown by its first line.
 */
export async function recordedLines(
  source: ExportSource,
  path: string,
  encoding: ExportFormat["encoding"],
  wanted: ReadonlySet<number>,
  names: RegExp,
): Promise<Map<number, string>> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of source.open(path)) chunks.push(chunk);
  const bytes = Buffer.concat(chunks);
  const sniffed = sniffEncoding(path, bytes.subarray(0, SNIFF_BYTES), encoding, bytes.length <= SNIFF_BYTES);
  const decoder = new StreamDecoder(sniffed);
  const splitter = new LineSplitter();
  const lines = [
    ...splitter.push(decoder.decode(bytes.subarray(sniffed.markBytes))),
    ...splitter.push(decoder.end()),
    ...splitter.end(),
  ];
  const found = new Map<number, string>();
  for (const [at, text] of lines.entries())
    if (wanted.has(at + 1) || names.test(text)) found.set(at + 1, text);
  return found;
}
