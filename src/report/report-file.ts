/** A file of a month's folder, as it is to be written. */
export interface ReportFile {
  /** Path below the month's folder. */
  readonly path: string;
  readonly text: string;
}

/** A file that grows with the fleet: its text is made piece by piece while it is written, and never held as a whole. */
export class LongFile implements ReportFile {
  readonly path: string;
  readonly #pieces: () => Iterable<string>;

  /** @param pieces  begins anew each time it is asked */
  constructor(path: string, pieces: () => Iterable<string>) {
    this.path = path;
    this.#pieces = pieces;
  }

  pieces(): Iterable<string> {
    return this.#pieces();
  }

  /** All of it, for whoever compares. */
  get text(): string {
    return [...this.pieces()].join("");
  }
}
