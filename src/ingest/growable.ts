/** Typed arrays that grow as rows are read, so that a million rows are a handful of buffers and no row objects. */

/** Growth by half: few copies, and at most a third of the buffer unused at the end. */
const grown = (size: number): number => Math.max(1024, Math.ceil(size * 1.5));

/** A growing column of 32-bit integers. */
export class GrowInt32 {
  #data = new Int32Array(1024);
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

/** A growing column of file numbers. */
export class GrowUint16 {
  #data = new Uint16Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.#data.length) {
      const data = new Uint16Array(grown(this.length));
      data.set(this.#data);
      this.#data = data;
    }
    this.#data[this.length++] = value;
  }

  take(): Uint16Array {
    const data = this.#data.slice(0, this.length);
    this.#data = new Uint16Array(0);
    this.length = 0;
    return data;
  }
}
