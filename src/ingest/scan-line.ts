/**
 * One physical line of bytes to the places of its cells, where it is a plain one: no control characters, and no quotes but
 * around whole cells. Anything else is left to the careful way (lines.ts, frame-records.ts), which reads every line.
 */
import type { Encoding } from "./sniff.ts";

export type ByteEncoding = Extract<Encoding, "utf-8" | "windows-1252"> | "ascii";

const LF = 10;
const CR = 13;
const QUOTE = 34;

/** What a byte means for the scan. */
const PLAIN = 0;
const DELIMITER = 1;
const LINE_END = 2;
const HIGH = 3;
const QUOTED = 4;
const ODD_BYTE = 5;

/** Bytes that windows-1252 leaves unused: control characters to any reader. */
const UNUSED_1252: readonly number[] = [0x81, 0x8d, 0x8f, 0x90, 0x9d];

function byteClasses(delimiter: string, encoding: ByteEncoding): Uint8Array {
  const classes = new Uint8Array(256);
  // Tabs and form feeds are white space; other control characters are refused.
  for (let byte = 0; byte < 32; byte++) if (byte !== 9 && byte !== 12) classes[byte] = ODD_BYTE;
  classes[0x7f] = ODD_BYTE;
  classes.fill(encoding === "windows-1252" ? PLAIN : HIGH, 0x80);
  if (encoding === "windows-1252") for (const byte of UNUSED_1252) classes[byte] = ODD_BYTE;
  classes[LF] = LINE_END;
  classes[CR] = LINE_END;
  classes[QUOTE] = QUOTED;
  classes[delimiter.charCodeAt(0)] = DELIMITER;
  return classes;
}

export class LineScanner {
  /** Bytes [from[k], to[k]) are cell k, without its quotes. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** How many cells the line has; those beyond the ones asked for have no place here. */
  cells = 0;
  /** Where the line ends, and where the next begins. */
  end = 0;
  next = 0;
  isPlain = false;
  /** The line has bytes that aren't ASCII, in an encoding where these must be looked at. */
  isHigh = false;
  readonly #classes: Uint8Array;

  /** @param cells  how many cells a row has */
  constructor(delimiter: string, cells: number, encoding: ByteEncoding) {
    this.from = new Int32Array(cells + 1);
    this.to = new Int32Array(cells + 1);
    this.#classes = byteClasses(delimiter, encoding);
  }

  /** Scans the line that begins at `start`. The last line need not have an end. */
  scan(bytes: Uint8Array, start: number): void {
    const classes = this.#classes;
    const { from, to } = this;
    const most = to.length - 1;
    const { length } = bytes;
    let at = start;
    let cell = 0;
    let cellStart = start;
    this.isPlain = true;
    this.isHigh = false;
    for (; at < length; at++) {
      const kind = classes[bytes[at]!]!;
      if (kind === PLAIN) continue;
      if (kind === DELIMITER) {
        if (cell <= most) {
          from[cell] = cellStart;
          to[cell] = at;
        }
        cell++;
        cellStart = at + 1;
      } else if (kind === LINE_END) break;
      else if (kind === HIGH) this.isHigh = true;
      else if (kind === QUOTED && at === cellStart) {
        const close = this.#closing(bytes, at + 1);
        if (close < 0) {
          this.isPlain = false;
          continue;
        }
        if (cell <= most) {
          from[cell] = at + 1;
          to[cell] = close;
        }
        cell++;
        at = close + 1;
        cellStart = at + 1;
        // The cell's own delimiter was passed; at a line end there is no further cell.
        if (at >= length || classes[bytes[at]!] === LINE_END) {
          this.cells = cell;
          this.#finish(bytes, at);
          return;
        }
      } else this.isPlain = false;
    }
    if (cell <= most) {
      from[cell] = cellStart;
      to[cell] = at;
    }
    this.cells = cell + 1;
    this.#finish(bytes, at);
  }

  /** Place of the quote that closes a cell on this line, with a delimiter or the line's end after it; -1: none such. */
  #closing(bytes: Uint8Array, start: number): number {
    const classes = this.#classes;
    for (let at = start; at < bytes.length; at++) {
      const kind = classes[bytes[at]!]!;
      if (kind === PLAIN || kind === DELIMITER) continue;
      if (kind === HIGH) this.isHigh = true;
      else if (kind === QUOTED) {
        const after = at + 1 === bytes.length ? LINE_END : classes[bytes[at + 1]!]!;
        return after === DELIMITER || after === LINE_END ? at : -1;
      } else return -1;
    }
    return -1;
  }

  #finish(bytes: Uint8Array, end: number): void {
    this.end = end;
    this.next = end + (bytes[end] === CR && bytes[end + 1] === LF ? 2 : 1);
  }
}
