/** What encoding a file is in, from its first megabyte: byte-order mark, UTF-16 without one, UTF-8 or windows-1252. */
import { isAscii } from "node:buffer";
import type { ExportFormat } from "../fleet/fleet.ts";
import { ExportError } from "../problems.ts";

export const SNIFF_BYTES = 1 << 20;

export type Encoding = NonNullable<ExportFormat["encoding"]>;

export interface SniffedEncoding {
  /** "ascii": only such bytes so far; the first others decide between UTF-8 and windows-1252. */
  readonly encoding: Encoding | "ascii";
  /** Length of the byte-order mark. */
  readonly markBytes: number;
  readonly evidence: string;
}

const MARKS: readonly { encoding: Encoding; bytes: readonly number[] }[] = [
  { encoding: "utf-8", bytes: [0xef, 0xbb, 0xbf] },
  { encoding: "utf-16le", bytes: [0xff, 0xfe] },
  { encoding: "utf-16be", bytes: [0xfe, 0xff] },
];

/** First bytes of files that are often renamed .csv. */
const MAGIC: readonly { bytes: readonly number[]; what: string }[] = [
  { bytes: [0x50, 0x4b, 0x03, 0x04], what: "a zip file, perhaps a spreadsheet workbook: export it as CSV" },
  { bytes: [0xd0, 0xcf, 0x11, 0xe0], what: "an old office document: export it as CSV" },
  { bytes: [0x25, 0x50, 0x44, 0x46], what: "a PDF: export it as CSV" },
  { bytes: [0x1f, 0x8b], what: "a gzip file: unpack it first" },
];

const startsWith = (head: Uint8Array, bytes: readonly number[]): boolean =>
  head.length >= bytes.length && bytes.every((byte, at) => head[at] === byte);

/**
 * The encoding of a file.
 *
 * @param head     its first megabyte (all of it where shorter)
 * @param set      the encoding that the fleet file gives, or null
 * @param isWhole  true where there is no more than the head
 * Throws ExportError E-FILE-READ for a file that is no text, E-DIALECT where mark and setting disagree.
 */
export function sniffEncoding(
  path: string,
  head: Uint8Array,
  set: Encoding | null,
  isWhole: boolean,
): SniffedEncoding {
  const magic = MAGIC.find(({ bytes }) => startsWith(head, bytes));
  if (magic !== undefined) throw notText(path, magic.what);
  const mark = MARKS.find(({ bytes }) => startsWith(head, bytes));
  if (mark !== undefined) {
    if (set !== null && set !== mark.encoding)
      throw new ExportError(
        "E-DIALECT",
        `${path}: the fleet file says encoding ${set}, but the file begins with the byte-order mark of ${mark.encoding}`,
      );
    const markBytes = mark.bytes.length;
    return { encoding: mark.encoding, markBytes, evidence: `encoding ${mark.encoding}: byte-order mark` };
  }
  if (set !== null) {
    refuseBinary(path, head, set.startsWith("utf-16"));
    return { encoding: set, markBytes: 0, evidence: `encoding ${set}: set in the fleet file` };
  }
  const wide = withoutMark(head);
  if (wide !== null)
    return { encoding: wide, markBytes: 0, evidence: `encoding ${wide}: every other byte is zero` };
  refuseBinary(path, head, false);
  if (isAscii(head)) return { encoding: "ascii", markBytes: 0, evidence: "encoding: plain ASCII" };
  return { markBytes: 0, ...decideEightBit(head, isWhole) };
}

/** UTF-8 where all bytes are valid UTF-8, else windows-1252. Unless all is there, an unfinished end is no fault. */
export function decideEightBit(
  bytes: Uint8Array,
  isWhole: boolean,
): { encoding: Encoding; evidence: string } {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream: !isWhole });
    return { encoding: "utf-8", evidence: "encoding utf-8: the bytes beyond ASCII are valid UTF-8" };
  } catch {
    return {
      encoding: "windows-1252",
      evidence: "encoding windows-1252: the bytes beyond ASCII are not valid UTF-8",
    };
  }
}

/** UTF-16 without a mark shows as zeros at every other byte. */
function withoutMark(head: Uint8Array): Encoding | null {
  const zeros = [0, 0];
  for (let at = 0; at < head.length; at++) if (head[at] === 0) zeros[at % 2]!++;
  const half = head.length / 2;
  if (half < 2) return null;
  if (zeros[1]! > 0.7 * half && zeros[0]! < 0.1 * half) return "utf-16le";
  if (zeros[0]! > 0.7 * half && zeros[1]! < 0.1 * half) return "utf-16be";
  return null;
}

/** Text holds hardly a control character; one in a hundred bytes means a binary file. */
function refuseBinary(path: string, head: Uint8Array, wide: boolean): void {
  if (wide) return;
  let controls = 0;
  for (let at = 0; at < head.length; at++) {
    const byte = head[at]!;
    if (byte < 32 && byte !== 9 && byte !== 10 && byte !== 12 && byte !== 13) controls++;
  }
  if (controls > Math.max(2, head.length / 100) || (controls > 0 && controls > head.length / 4))
    throw notText(path, `${controls} control bytes in the first ${head.length}`);
}

const notText = (path: string, why: string): ExportError =>
  new ExportError("E-FILE-READ", `${path}: expected a CSV text file, found ${why}`);
