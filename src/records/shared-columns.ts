/**
 * Columns that grow by pushing and end up in shared memory, exactly as long as they are filled: another thread gets them
 * without a copy, and a million rows are a handful of buffers.
 */

type Numbers = Float64Array | Int32Array | Uint16Array | Uint8Array;

/** Growth by half: few copies, and at most a third of the buffer unused while it is filled. */
const grown = (size: number): number => Math.max(256, Math.ceil(size * 1.5));

/** A growing column of one kind of number. */
export class GrowingColumn<T extends Numbers> {
  readonly #make: (source: number | SharedArrayBuffer) => T;
  readonly #bytes: number;
  #data: T;
  length = 0;

  /** @param make  makes the typed array, of a length or over a buffer */
  constructor(make: (source: number | SharedArrayBuffer) => T) {
    this.#make = make;
    this.#data = make(grown(0));
    this.#bytes = this.#data.BYTES_PER_ELEMENT;
  }

  push(value: number): void {
    if (this.length === this.#data.length) {
      const data = this.#make(grown(this.length));
      data.set(this.#data);
      this.#data = data;
    }
    this.#data[this.length++] = value;
  }

  /** The filled part in shared memory; what it grew in is given up. */
  take(): T {
    const data = this.#make(new SharedArrayBuffer(this.length * this.#bytes));
    data.set(this.#data.subarray(0, this.length));
    this.#data = this.#make(0);
    this.length = 0;
    return data;
  }
}

/** A column of hours or lengths. */
export const growingFloats = (): GrowingColumn<Float64Array> =>
  new GrowingColumn((source) => new Float64Array(source as number));

/** A column of days, lines, places or codes; -1 is one. */
export const growingInts = (): GrowingColumn<Int32Array> =>
  new GrowingColumn((source) => new Int32Array(source as number));

/** A column of numbers from 0 to 65,535. */
export const growingShorts = (): GrowingColumn<Uint16Array> =>
  new GrowingColumn((source) => new Uint16Array(source as number));

/** A column of numbers from 0 to 255. */
export const growingBytes = (): GrowingColumn<Uint8Array> =>
  new GrowingColumn((source) => new Uint8Array(source as number));
