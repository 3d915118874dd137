/** A first look at a CSV file that nothing is known about: its heading line and some rows, for `init` to guess from. */

import { StreamDecoder } from "../ingest/decode.ts";
import { cellsOf } from "../ingest/frame-records.ts";
import { SNIFF_BYTES, sniffEncoding } from "../ingest/sniff.ts";

export interface SeenTable {
  readonly heading: readonly string[];
  readonly sampleRows: readonly (readonly string[])[];
}

const DELIMITERS = [",", ";", "\t", "|"] as const;
const HEADING_WITHIN_LINES = 30;
const SAMPLE_ROWS = 2_000;

/** Cells of a line; none where a quote is left open in it, since only the careful reading can follow that. */
function cellsOfLine(content: string, delimiter: string): string[] {
  const quotes = content.split('"').length - 1;
  return quotes % 2 === 1 ? [] : cellsOf(content, delimiter).map((cell) => cell.trim());
}

const looksLikeWord = (cell: string): boolean => /\p{L}/u.test(cell) && !/^\d/.test(cell.trim());

/**
 * The heading is the first line, near the top, that has the most cells which read like words.
 * null where no line has two.
 */
export function lookAtExport(path: string, bytes: Uint8Array): SeenTable | null {
  const head = bytes.subarray(0, SNIFF_BYTES);
  const sniffed = sniffEncoding(path, head, null, bytes.length <= SNIFF_BYTES);
  const text = new StreamDecoder(sniffed).decode(head.subarray(sniffed.markBytes));
  const lines = text.split(/\r\n|\r|\n/);
  let best = { words: 1, line: -1, delimiter: "," };
  for (const [line, content] of lines.slice(0, HEADING_WITHIN_LINES).entries()) {
    for (const delimiter of DELIMITERS) {
      const words = cellsOfLine(content, delimiter).filter(looksLikeWord).length;
      if (words > best.words) best = { words, line, delimiter };
    }
  }
  if (best.line < 0) return null;
  const cells = (content: string) => cellsOfLine(content, best.delimiter);
  const rows = lines
    .slice(best.line + 1, best.line + 1 + SAMPLE_ROWS)
    .filter((content) => content.trim() !== "");
  return {
    heading: cells(lines[best.line] ?? ""),
    sampleRows: rows.map(cells).filter((row) => row.length > 0),
  };
}
