/**
 * Whole lines of one file, as bytes, to rows: plain lines straight from their bytes, all others by way of text as a file in
 * any encoding is read. Both ways give the same rows; tests hold that.
 */
import { CellCodes } from "./cell-codes.ts";
import { decodeWindows1252 } from "./decode.ts";
import { type LineCounts, type LineProblem, noCounts } from "./file-texts.ts";
import { boundedLine, type LineEnds, LONGEST_LINE } from "./lines.ts";
import { dateCellOf, RowTaker, type TakerSetup } from "./row-taker.ts";
import { NO_TEXT } from "./row-words.ts";
import { type ByteEncoding, LineScanner } from "./scan-line.ts";
import { type PieceRows, TextRows } from "./text-rows.ts";

/** What a piece of a file holds. */
export interface Piece extends PieceRows {
  readonly counts: LineCounts;
  readonly ends: LineEnds;
  readonly trailingDelimiters: number;
  readonly repeatedHeadings: number;
  readonly problems: readonly LineProblem[];
}

/** After so many plain lines the records held back are parsed: few enough, and none is read twice as dear. */
const PLAIN_RUN = 16;
const CR = 13;
const NO_HEADINGS: ReadonlySet<string> = new Set();

export const DECODERS: Readonly<Record<ByteEncoding, (bytes: Uint8Array) => string>> = {
  ascii: decodeWindows1252,
  "windows-1252": decodeWindows1252,
  "utf-8": (bytes) => UTF8.decode(bytes),
};
const UTF8 = new TextDecoder("utf-8", { ignoreBOM: true });

export class BlockReader {
  readonly #taker: RowTaker;
  readonly #rows: TextRows;
  readonly #columns: readonly CellCodes[];
  readonly #cellOf: readonly number[];
  readonly #dateColumn: number;
  readonly #found: Int32Array;
  readonly #wanted: number;
  #ends: LineEnds = { crlf: 0, lf: 0, cr: 0 };
  #problems: LineProblem[] = [];
  #encoding: ByteEncoding = "ascii";
  #scanner: LineScanner;
  #plainRun = 0;
  #hasPlainRow = false;

  /** @param linesBefore  physical lines of the file before those that will be read */
  constructor(setup: TakerSetup, linesBefore = 0) {
    const { heading } = setup;
    this.#rows = new TextRows(heading);
    this.#taker = new RowTaker(setup, this.#rows, (problem) => this.#problems.push(problem));
    this.#taker.continueAfter(linesBefore);
    this.#cellOf = heading.columns.map(({ cell }) => cell);
    this.#dateColumn = this.#cellOf.indexOf(dateCellOf(heading));
    this.#found = new Int32Array(heading.columns.length);
    this.#wanted = heading.cells.length;
    this.#scanner = new LineScanner(heading.delimiter, this.#wanted, "ascii");
    const headings = new Set(heading.cells);
    this.#columns = this.#rows.texts.map((texts, k) =>
      k === this.#dateColumn ? new CellCodes(texts, headings) : new CellCodes(texts, NO_HEADINGS),
    );
  }

  /**
   * Reads whole lines. An encoding may go from ASCII to another, once.
   * @param linesBefore  lines of the file before these; null: those that were read here
   */
  read(bytes: Uint8Array, encoding: ByteEncoding, linesBefore: number | null = null): Piece {
    if (linesBefore !== null) this.#taker.continueAfter(linesBefore);
    if (encoding !== this.#encoding) {
      this.#encoding = encoding;
      this.#scanner = new LineScanner(this.#taker.heading.delimiter, this.#wanted, encoding);
    }
    const scanner = this.#scanner;
    for (let at = 0; at < bytes.length; at = scanner.next) {
      scanner.scan(bytes, at);
      this.#countEnd(bytes);
      if (!this.#takesPlainly(bytes, at)) this.#takeCarefully(bytes, at);
    }
    this.#taker.flush();
    return this.#piece();
  }

  /** Reads lines that were split already (their ends are counted there). */
  readLines(lines: readonly string[]): Piece {
    this.#taker.lines(lines);
    this.#taker.flush();
    return this.#piece();
  }

  /** The last rows, where a quoted cell was open to the end. */
  end(): Piece {
    this.#taker.end();
    return this.#piece();
  }

  #piece(): Piece {
    const taker = this.#taker;
    const { counts, trailingDelimiters, repeatedHeadings } = taker;
    const piece = {
      counts,
      trailingDelimiters,
      repeatedHeadings,
      ends: this.#ends,
      problems: this.#problems,
    };
    taker.counts = noCounts();
    taker.trailingDelimiters = 0;
    taker.repeatedHeadings = 0;
    this.#ends = { crlf: 0, lf: 0, cr: 0 };
    this.#problems = [];
    return { ...this.#rows.take(), ...piece };
  }

  #countEnd(bytes: Uint8Array): void {
    const { end, next } = this.#scanner;
    if (end >= bytes.length) return;
    if (next === end + 2) this.#ends.crlf++;
    else if (bytes[end] === CR) this.#ends.cr++;
    else this.#ends.lf++;
  }

  /** True where the line was a plain row or a blank, and is counted. */
  #takesPlainly(bytes: Uint8Array, at: number): boolean {
    const taker = this.#taker;
    const { end, isPlain, cells } = this.#scanner;
    if (!isPlain || !taker.awaitsRow || end - at > LONGEST_LINE) return false;
    if (end === at) {
      taker.countBlank();
      return true;
    }
    const wanted = this.#wanted;
    const trails = cells > wanted;
    if (cells < wanted || (trails && end - this.#scanner.from[wanted]! !== cells - wanted - 1)) return false;
    if (taker.waiting > 0) {
      if (++this.#plainRun < PLAIN_RUN) return false;
      taker.flush();
    }
    if (!this.#findCodes(bytes, at)) return false;
    this.#hasPlainRow = true;
    if (trails) taker.trailingDelimiters++;
    this.#rows.pushCodes(taker.countRow(), this.#found);
    return true;
  }

  /** Codes of the line's cells; false, and no text taken up, where the line must be looked at. */
  #findCodes(bytes: Uint8Array, at: number): boolean {
    const { end, isHigh } = this.#scanner;
    const decode = DECODERS[this.#encoding];
    if (isHigh && NO_TEXT.test(decode(bytes.subarray(at, end)))) return false;
    // The date first: it is what tells a row from anything else.
    const date = this.#dateColumn;
    const found = this.#found;
    if (date < 0) return false;
    found[date] = this.#code(date, bytes, decode);
    if (found[date]! < 0) return false;
    for (let k = 0; k < found.length; k++) if (k !== date) found[k] = this.#code(k, bytes, decode);
    return true;
  }

  #code(column: number, bytes: Uint8Array, decode: (bytes: Uint8Array) => string): number {
    const cell = this.#cellOf[column]!;
    const start = this.#scanner.from[cell]!;
    const end = this.#scanner.to[cell]!;
    return this.#columns[column]!.code(bytes, start, end, decode);
  }

  #takeCarefully(bytes: Uint8Array, at: number): void {
    // The headings are followed by rows of the plain kind, in all likelihood: no need to wait and see.
    this.#plainRun = this.#hasPlainRow ? 0 : PLAIN_RUN;
    this.#taker.line(boundedLine(DECODERS[this.#encoding](bytes.subarray(at, this.#scanner.end))));
  }
}
