/** Typed arrays that grow as rows are read, so that a million rows are a handful of buffers and no row objects. */

/** Growth by half: few copies, and at most a third of the buffer unused at the end. Exports of a month are small. */
const grown = (size: number): number => Math.max(LEAST, Math.ceil(size * 1.5));
const LEAST = 64;

/** A growing column of 32-bit integers. */
export class GrowInt32 {
  #data = new Int32Array(LEAST);
  length = 0;

  push(value: number): void {
    if (this.length === this.#data.length) {
      const data = new Int32Array(grown(this.length));
      data.set(this.#data);
      this.#data = data;
    }
    this.#data[this.length++] = value;
  }

  get(index: number): number {
    return this.#data[index]!;
  }

  /** Adds values, each through a table of what it becomes; negative ones as they are. */
  append(values: Int32Array, becomes: Int32Array): void {
    const length = this.length + values.length;
    if (length > this.#data.length) {
      const data = new Int32Array(Math.max(length, grown(this.length)));
      data.set(this.#data.subarray(0, this.length));
      this.#data = data;
    }
    const data = this.#data;
    for (let at = 0, to = this.length; at < values.length; at++, to++) {
      const value = values[at]!;
      data[to] = value < 0 ? value : becomes[value]!;
    }
    this.length = length;
  }

  /** Adds values, each with the same number added to it. */
  appendShifted(values: Int32Array, by: number): void {
    for (let at = 0; at < values.length; at++) this.push(values[at]! + by);
  }

  /** The filled part, shared with the buffer: valid until the next push. */
  view(): Int32Array {
    return this.#data.subarray(0, this.length);
  }

  /** The filled part by itself; the buffer is given up. */
  take(): Int32Array {
    const data = this.#data.slice(0, this.length);
    this.#data = new Int32Array(0);
    this.length = 0;
    return data;
  }
}

/** A longer copy. */
export function grownInts(from: Int32Array, size: number): Int32Array {
  const to = new Int32Array(size);
  to.set(from);
  return to;
}

/** A copy twice as long. */
export function grownBytes(from: Uint8Array): Uint8Array {
  const to = new Uint8Array(from.length * 2);
  to.set(from);
  return to;
}
