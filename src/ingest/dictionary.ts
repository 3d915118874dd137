/** Distinct texts of a column and their codes: a cell's text is kept once, however many rows hold it. */

/** Code of an empty cell. */
export const EMPTY = -1;

/** A slice of a long line keeps the whole line alive in V8 from 13 characters on; a copy doesn't. */
const SLICED_FROM_LENGTH = 13;

export class Dictionary {
  readonly texts: string[] = [];
  #codes = new Map<string, number>();
  #lastText = "";
  #lastCode = EMPTY;

  /** Code of a text, new or known; EMPTY for the empty text. */
  code(text: string): number {
    if (text === this.#lastText) return this.#lastCode;
    if (text === "") return EMPTY;
    let code = this.#codes.get(text);
    if (code === undefined) {
      const own = text.length >= SLICED_FROM_LENGTH ? Buffer.from(text, "utf16le").toString("utf16le") : text;
      code = this.texts.length;
      this.texts.push(own);
      this.#codes.set(own, code);
    }
    this.#lastText = text;
    this.#lastCode = code;
    return code;
  }

  /** The text of a code; the empty text for EMPTY. */
  text(code: number): string {
    return code === EMPTY ? "" : this.texts[code]!;
  }
}
