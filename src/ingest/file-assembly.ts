/** One file's texts put together from its pieces, in their order: the same whoever read which piece. */
import type { Piece } from "./block-reader.ts";
import { ByteTexts } from "./byte-texts.ts";
import { type FileTexts, type LineProblem, noCounts } from "./file-texts.ts";
import type { Heading } from "./find-heading.ts";
import { GrowInt32 } from "./growable.ts";
import type { LineEnds } from "./lines.ts";

/** Who read a piece: each knows the texts of the pieces that it read before, by its own codes. */
export type Reader = object;

export class FileAssembly {
  readonly counts = noCounts();
  readonly ends: LineEnds = { crlf: 0, lf: 0, cr: 0 };
  trailingDelimiters = 0;
  repeatedHeadings = 0;
  readonly #line = new GrowInt32();
  readonly #codes: readonly GrowInt32[];
  readonly #texts: readonly ByteTexts[];
  /** By reader: what the codes of each column become here. */
  readonly #becomes = new Map<Reader, readonly GrowInt32[]>();
  readonly #problems: LineProblem[] = [];

  constructor({ columns }: Heading) {
    this.#codes = columns.map(() => new GrowInt32());
    this.#texts = columns.map(() => new ByteTexts());
  }

  /** Adds the next piece. @param lineShift  what its line numbers lack */
  add(piece: Piece, reader: Reader, lineShift: number): void {
    this.#line.appendShifted(piece.line, lineShift);
    const becomes = this.#becomes.get(reader) ?? piece.codes.map(() => new GrowInt32());
    this.#becomes.set(reader, becomes);
    piece.codes.forEach((codes, k) => {
      const column = becomes[k]!;
      const { bytes, ends } = piece.newTexts[k]!;
      for (let at = 0; at < ends.length; at++)
        column.push(this.#texts[k]!.code(bytes, at === 0 ? 0 : ends[at - 1]!, ends[at]!));
      this.#codes[k]!.append(codes, column.view());
    });
    for (const problem of piece.problems) this.#problems.push({ ...problem, line: problem.line + lineShift });
    this.#count(piece);
  }

  /** Adds line ends that were counted outside the pieces. */
  addEnds({ crlf, lf, cr }: LineEnds): void {
    this.ends.crlf += crlf;
    this.ends.lf += lf;
    this.ends.cr += cr;
  }

  /** Everything; nothing may be added afterwards. */
  done(about: Pick<FileTexts, "sha256" | "bytes" | "heading" | "format">): FileTexts {
    const rows = this.#line.length;
    const columns = this.#codes.map((codes, k) => ({
      codes: codes.take(),
      texts: this.#texts[k]!.takeNew(),
    }));
    const { counts } = this;
    return { ...about, counts, rows, line: this.#line.take(), columns, problems: this.#problems };
  }

  #count({ counts, ends, trailingDelimiters, repeatedHeadings }: Piece): void {
    for (const key of Object.keys(counts) as (keyof typeof counts)[]) this.counts[key] += counts[key];
    this.addEnds(ends);
    this.trailingDelimiters += trailingDelimiters;
    this.repeatedHeadings += repeatedHeadings;
  }
}
