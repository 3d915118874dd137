/** The rows of a piece of one file as codes into the distinct texts that its reader has seen so far. */
import { ByteTexts, type PackedTexts } from "./byte-texts.ts";
import type { Heading } from "./find-heading.ts";
import { GrowInt32 } from "./growable.ts";

/** Rows of a piece, and the texts that are new since the last one. */
export interface PieceRows {
  readonly line: Int32Array;
  readonly codes: readonly Int32Array[];
  readonly newTexts: readonly PackedTexts[];
}

export class TextRows {
  readonly texts: readonly ByteTexts[];
  readonly #line = new GrowInt32();
  readonly #codes: readonly GrowInt32[];
  readonly #cellOf: readonly number[];

  constructor({ columns }: Heading) {
    this.texts = columns.map(() => new ByteTexts());
    this.#codes = columns.map(() => new GrowInt32());
    this.#cellOf = columns.map(({ cell }) => cell);
  }

  /** Adds a row by its cells' texts. */
  pushCells(line: number, cells: readonly string[]): void {
    for (let k = 0; k < this.#cellOf.length; k++)
      this.#codes[k]!.push(this.texts[k]!.codeOf(cells[this.#cellOf[k]!]!.trim()));
    this.#line.push(line);
  }

  /** Adds a row by its columns' codes. */
  pushCodes(line: number, codes: Int32Array): void {
    for (let k = 0; k < this.#codes.length; k++) this.#codes[k]!.push(codes[k]!);
    this.#line.push(line);
  }

  /** The rows since the last call; the texts stay known. */
  take(): PieceRows {
    return {
      line: this.#line.take(),
      codes: this.#codes.map((codes) => codes.take()),
      newTexts: this.texts.map((texts) => texts.takeNew()),
    };
  }
}
