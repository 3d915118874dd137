/**
 * Physical lines to records: a quoted cell may hold line ends, and a quote that is never closed must not swallow what
 * follows. Only the framing is done here; the cells are parsed by csv-parse, with the same rules for quotes.
 */
import { parse } from "csv-parse/sync";

/** A quoted cell may go over this many lines or characters; beyond, its quote counts as not closed. */
const MOST_LINES = 50;
const MOST_CHARACTERS = 1 << 15;

export interface RawRecord {
  readonly text: string;
  /** Physical line on which it begins, from 1. */
  readonly line: number;
  readonly lines: number;
  /** True where a quote opens on this line and is not closed within bounds; the record is that line alone. */
  readonly unclosed: boolean;
}

/** Gathers lines to records. `expectedCells` (0: not known yet) tells a swallowed row from a cell of several lines. */
export class RecordFramer {
  expectedCells = 0;
  readonly delimiter: string;
  #held: string[] = [];
  #heldCharacters = 0;
  #heldLine = 0;

  constructor(delimiter: string) {
    this.delimiter = delimiter;
  }

  /** True while a quoted cell is open, so that the next line may belong to it. */
  get isHolding(): boolean {
    return this.#held.length > 0;
  }

  /** Takes the next physical line; calls `emit` for each record that is complete now. */
  push(text: string, line: number, emit: (record: RawRecord) => void): void {
    if (this.#held.length > 0) {
      this.#continue(text, emit);
      return;
    }
    if (!text.includes('"') || quotesAtEnd(text, this.delimiter, false) !== "open") {
      emit({ text, line, lines: 1, unclosed: false });
      return;
    }
    this.#held = [text];
    this.#heldCharacters = text.length;
    this.#heldLine = line;
  }

  /** No more lines: what is held was never closed. */
  end(emit: (record: RawRecord) => void): void {
    while (this.#held.length > 0) this.#giveUp(emit);
  }

  #continue(text: string, emit: (record: RawRecord) => void): void {
    const state = text.includes('"') ? quotesAtEnd(text, this.delimiter, true) : "open";
    this.#held.push(text);
    this.#heldCharacters += text.length;
    const whole = state === "closed" ? this.#held.join("\n") : "";
    if (state === "unclean" || this.#isTooLong()) this.#giveUp(emit);
    else if (state === "open") {
      if (this.#isRowOfItsOwn(text)) this.#giveUp(emit);
    } else if (this.#fits(whole)) {
      const lines = this.#held.length;
      this.#held = [];
      emit({ text: whole, line: this.#heldLine, lines, unclosed: false });
    } else this.#giveUp(emit);
  }

  #isTooLong(): boolean {
    return this.#held.length > MOST_LINES || this.#heldCharacters > MOST_CHARACTERS;
  }

  /** A line within the supposed cell that has all the cells of a row is a row: the quote before it is a stray one. */
  #isRowOfItsOwn(text: string): boolean {
    return this.expectedCells > 1 && text.split(this.delimiter).length === this.expectedCells;
  }

  #fits(whole: string): boolean {
    if (this.expectedCells === 0) return true;
    const cells = cellsOf(whole, this.delimiter);
    return cells.length >= this.expectedCells && cells.slice(this.expectedCells).every((cell) => cell === "");
  }

  /** The line with the quote is a record of its own, and the lines after it are looked at afresh. */
  #giveUp(emit: (record: RawRecord) => void): void {
    const [first, ...rest] = this.#held;
    const line = this.#heldLine;
    this.#held = [];
    emit({ text: first!, line, lines: 1, unclosed: true });
    rest.forEach((text, at) => {
      this.push(text, line + 1 + at, emit);
    });
  }
}

/**
 * What becomes of quoting by the end of a line: "closed" (no cell is open), "open", or "unclean" where the cell that was
 * open is closed by a quote with other text right after it (so it was none).
 *
 * A quote opens a cell only as its first character; doubled quotes inside stand for one; a lone quote inside a quoted
 * cell that is not followed by a delimiter or line end makes the cell an unquoted one (csv-parse's relax_quotes).
 */
function quotesAtEnd(text: string, delimiter: string, openBefore: boolean): "closed" | "open" | "unclean" {
  let quoted = openBefore;
  let atStart = !openBefore;
  let first = openBefore;
  for (let at = 0; at < text.length; at++) {
    const c = text[at]!;
    if (quoted) {
      if (c !== '"') continue;
      const next = text[at + 1];
      if (next === '"') at++;
      else {
        if (first && next !== undefined && next !== delimiter) return "unclean";
        quoted = false;
        first = false;
      }
    } else if (c === delimiter) atStart = true;
    else {
      if (c === '"' && atStart) quoted = true;
      atStart = false;
    }
  }
  return quoted ? "open" : "closed";
}

/**
 * Cells of records that were framed (no blank ones, none with an open quote); one list of cells a record, always.
 *
 * csv-parse reads the records with a quote in them. A record without one has nothing to parse but its delimiters, and
 * splitting at these is three times faster on a million rows; tests hold that both ways agree.
 */
export function parseRecords(texts: readonly string[], delimiter: string): string[][] {
  const quoted = texts.filter((text) => text.includes('"'));
  const parsed = quoted.length === 0 ? [] : parseQuoted(quoted, delimiter);
  let at = 0;
  return texts.map((text) => (text.includes('"') ? parsed[at++]! : text.split(delimiter)));
}

/** The same by csv-parse alone. */
export function parseQuoted(texts: readonly string[], delimiter: string): string[][] {
  const rows = parse(texts.join("\n"), {
    delimiter,
    relax_quotes: true,
    relax_column_count: true,
    record_delimiter: "\n",
    bom: false,
  }) as string[][];
  if (rows.length !== texts.length)
    throw new Error(`framing and parsing disagree: ${texts.length} records framed, ${rows.length} parsed`);
  return rows;
}

/** Cells of one record; where a quote is left open in it, the record simply split. */
export const cellsOf = (text: string, delimiter: string): string[] =>
  text.includes('"') && quotesAtEnd(text, delimiter, false) === "open"
    ? text.split(delimiter)
    : parseRecords([text], delimiter)[0]!;
