/** Text to physical lines: CRLF, LF and CR all end a line, mixed as they come; a line's length is bounded. */

/** Longer lines are cut off here: no row is this long, and one line must not fill the memory. */
export const LONGEST_LINE = 1 << 20;

/** Appended to what is kept of a line that was too long, so that the next stage knows (no text decodes to this). */
export const CUT_MARK = "\uD800";

/** How lines ended, counted. */
export interface LineEnds {
  crlf: number;
  lf: number;
  cr: number;
}

const cut = (line: string): string => line.slice(0, 300) + CUT_MARK;

/** A line as it goes on: its beginning with the mark, where it is too long. */
export const boundedLine = (line: string): string => (line.length > LONGEST_LINE ? cut(line) : line);

/** Splits pieces of text into lines without their ends. The last line counts also without an end. */
export class LineSplitter {
  readonly ends: LineEnds = { crlf: 0, lf: 0, cr: 0 };
  #rest = "";
  #cut = false;

  /** Complete lines of the next piece. */
  push(piece: string): string[] {
    const lines: string[] = [];
    const text = this.#rest + piece;
    let from = 0;
    let lf = text.indexOf("\n");
    let cr = text.indexOf("\r");
    while (lf >= 0 || cr >= 0) {
      const atCr = cr >= 0 && (lf < 0 || cr < lf);
      const at = atCr ? cr : lf;
      // Whether a CR that ends the piece stands alone is known with the next piece only.
      if (atCr && at === text.length - 1) break;
      const pair = atCr && lf === cr + 1;
      if (pair) this.ends.crlf++;
      else if (atCr) this.ends.cr++;
      else this.ends.lf++;
      lines.push(this.#finish(text.slice(from, at)));
      from = pair ? at + 2 : at + 1;
      if (lf >= 0 && lf < from) lf = text.indexOf("\n", from);
      if (cr >= 0 && cr < from) cr = text.indexOf("\r", from);
    }
    this.#keep(from === 0 ? text : text.slice(from));
    return lines;
  }

  /** The last line, where the file doesn't end with a line end. */
  end(): string[] {
    const rest = this.#rest;
    this.#rest = "";
    if (rest.endsWith("\r")) {
      this.ends.cr++;
      return [this.#finish(rest.slice(0, -1))];
    }
    return rest === "" && !this.#cut ? [] : [this.#finish(rest)];
  }

  /** An unfinished line that is too long already is cut, and the rest of it let go as it comes. */
  #keep(rest: string): void {
    if (rest.length <= LONGEST_LINE) {
      this.#rest = rest;
      return;
    }
    this.#cut = true;
    this.#rest = rest.slice(0, LONGEST_LINE) + (rest.endsWith("\r") ? "\r" : "");
  }

  #finish(line: string): string {
    const tooLong = this.#cut;
    this.#cut = false;
    return tooLong ? cut(line) : boundedLine(line);
  }
}
