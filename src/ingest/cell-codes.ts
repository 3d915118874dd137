/** Bytes of a cell, in the file's encoding and with white space around them, to the code of its text. */
import { type ByteTexts, EMPTY, NOT_ASCII } from "./byte-texts.ts";

/** Code of a text for which the whole line must go the careful way. */
const ODD = -2;
const SPACE = 0x20;

export class CellCodes {
  readonly #texts: ByteTexts;
  readonly #headings: ReadonlySet<string>;
  /** 1 for bytes that a heading begins with. */
  readonly #headingStarts = new Uint8Array(256);
  /** Codes of cells with white space around them or bytes beyond ASCII, by these bytes. */
  readonly #others = new Map<string, number>();

  /** @param headings  texts for which a line must go the careful way, since it may be the headings again */
  constructor(texts: ByteTexts, headings: ReadonlySet<string>) {
    this.#texts = texts;
    this.#headings = headings;
    for (const heading of headings) {
      const [first] = Buffer.from(heading, "utf8");
      if (first !== undefined) this.#headingStarts[first] = 1;
    }
  }

  /** Code of the cell [from, to): EMPTY where it is blank, less where its line must be looked at. */
  code(bytes: Uint8Array, from: number, to: number, decode: (bytes: Uint8Array) => string): number {
    if (from === to) return EMPTY;
    const first = bytes[from]!;
    if (first <= SPACE || bytes[to - 1]! <= SPACE || this.#headingStarts[first] === 1)
      return this.#otherCode(bytes.subarray(from, to), decode);
    const code = this.#texts.code(bytes, from, to, true);
    return code === NOT_ASCII ? this.#otherCode(bytes.subarray(from, to), decode) : code;
  }

  #otherCode(cell: Uint8Array, decode: (bytes: Uint8Array) => string): number {
    const key = Buffer.from(cell.buffer, cell.byteOffset, cell.length).toString("latin1");
    let code = this.#others.get(key);
    if (code === undefined) {
      const text = decode(cell).trim();
      code = this.#headings.has(text.replace(/\s+/g, " ")) ? ODD : this.#texts.codeOf(text);
      this.#others.set(key, code);
    }
    return code;
  }
}
