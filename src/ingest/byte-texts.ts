/**
 * Distinct texts of a column as UTF-8 bytes, with a code for each in the order in which they came: a cell's text is kept once,
 * however many rows hold it, and none is made a string before somebody needs it as one.
 */
import { grownBytes, grownInts } from "./growable.ts";

/** Code of an empty cell. */
export const EMPTY = -1;
/** Answer for a text with bytes beyond ASCII, where such are not to be looked up. */
export const NOT_ASCII = -3;

/** Texts put one behind the other: text k is the bytes [ends[k - 1], ends[k]). */
export interface PackedTexts {
  readonly bytes: Uint8Array;
  readonly ends: Int32Array;
}

/**
 * Texts of at most twelve bytes, which nearly all are, stand in the table itself as three numbers, so that looking one up
 * touches one place in memory: [bytes 0-3, 4-7, 8-11, code + 1 and length].
 */
const SHORT_BYTES = 12;
const STRIDE = 4;
const LENGTH_SHIFT = 27;
const CODE_MASK = (1 << LENGTH_SHIFT) - 1;

/** A growing set of such texts. */
export class ByteTexts {
  count = 0;
  #bytes: Uint8Array = new Uint8Array(1 << 7);
  #ends: Int32Array = new Int32Array(1 << 4);
  #told = 0;
  #short: Int32Array = new Int32Array(STRIDE << 5);
  #shorts = 0;
  /** Codes of long texts by a hash of their bytes; chains go on in `#sameHash`. */
  readonly #long = new Map<number, number>();
  readonly #sameHash = new Map<number, number>();
  #lastLong = EMPTY;

  /**
   * Code of the text [from, to) of some bytes, new or known; EMPTY for the empty text.
   * @param asciiOnly  a text with other bytes is not looked up: NOT_ASCII
   */
  code(bytes: Uint8Array, from: number, to: number, asciiOnly = false): number {
    const length = to - from;
    if (length === 0) return EMPTY;
    if (length > SHORT_BYTES) return this.#longCode(bytes, from, to, asciiOnly);
    let a = 0;
    let b = 0;
    let c = 0;
    const endOfA = length < 4 ? to : from + 4;
    for (let at = from; at < endOfA; at++) a = (a << 8) | bytes[at]!;
    if (length > 4) {
      const endOfB = length < 8 ? to : from + 8;
      for (let at = from + 4; at < endOfB; at++) b = (b << 8) | bytes[at]!;
      for (let at = from + 8; at < to; at++) c = (c << 8) | bytes[at]!;
    }
    if (asciiOnly && ((a | b | c) & 0x80808080) !== 0) return NOT_ASCII;
    const table = this.#short;
    const mask = table.length - STRIDE;
    let slot = (mixed(a, b, c, length) * STRIDE) & mask;
    for (let found = table[slot + 3]!; found !== 0; found = table[slot + 3]!) {
      if (
        table[slot] === a &&
        table[slot + 1] === b &&
        table[slot + 2] === c &&
        found >>> LENGTH_SHIFT === length
      )
        return (found & CODE_MASK) - 1;
      slot = (slot + STRIDE) & mask;
    }
    const code = this.#add(bytes, from, to);
    table[slot] = a;
    table[slot + 1] = b;
    table[slot + 2] = c;
    table[slot + 3] = (length << LENGTH_SHIFT) | (code + 1);
    if (++this.#shorts * STRIDE * 8 > table.length * 5) this.#growShort();
    return code;
  }

  /** Code of a text given as a string. */
  codeOf(text: string): number {
    const bytes = Buffer.from(text, "utf8");
    return this.code(bytes, 0, bytes.length);
  }

  /** The texts that came since the last call. */
  takeNew(): PackedTexts {
    const first = this.#told;
    const start = first === 0 ? 0 : this.#ends[first - 1]!;
    const end = this.count === 0 ? 0 : this.#ends[this.count - 1]!;
    this.#told = this.count;
    const ends = this.#ends.slice(first, this.count);
    for (let k = 0; k < ends.length; k++) ends[k]! -= start;
    return { bytes: this.#bytes.slice(start, end), ends };
  }

  #longCode(bytes: Uint8Array, from: number, to: number, asciiOnly: boolean): number {
    const last = this.#lastLong;
    if (last !== EMPTY && this.#equals(last, bytes, from, to)) return last;
    let hash = to - from;
    let all = 0;
    for (let at = from; at < to; at++) {
      hash = (Math.imul(hash, 31) + bytes[at]!) | 0;
      all |= bytes[at]!;
    }
    if (asciiOnly && all > 0x7f) return NOT_ASCII;
    let code = this.#long.get(hash);
    if (code === undefined) {
      code = this.#add(bytes, from, to);
      this.#long.set(hash, code);
    } else
      while (!this.#equals(code, bytes, from, to)) {
        let next = this.#sameHash.get(code);
        if (next === undefined) {
          next = this.#add(bytes, from, to);
          this.#sameHash.set(code, next);
        }
        code = next;
      }
    this.#lastLong = code;
    return code;
  }

  #equals(code: number, bytes: Uint8Array, from: number, to: number): boolean {
    const start = code === 0 ? 0 : this.#ends[code - 1]!;
    const length = to - from;
    if (this.#ends[code]! - start !== length) return false;
    const own = this.#bytes;
    for (let k = length - 1; k >= 0; k--) if (own[start + k] !== bytes[from + k]) return false;
    return true;
  }

  #add(bytes: Uint8Array, from: number, to: number): number {
    const code = this.count++;
    if (code === this.#ends.length) this.#ends = grownInts(this.#ends, code * 2);
    const start = code === 0 ? 0 : this.#ends[code - 1]!;
    const end = start + to - from;
    while (end > this.#bytes.length) this.#bytes = grownBytes(this.#bytes);
    for (let at = from, k = start; at < to; at++, k++) this.#bytes[k] = bytes[at]!;
    this.#ends[code] = end;
    return code;
  }

  #growShort(): void {
    const from = this.#short;
    const to = new Int32Array(from.length * 2);
    const mask = to.length - STRIDE;
    for (let slot = 0; slot < from.length; slot += STRIDE) {
      const packed = from[slot + 3]!;
      if (packed === 0) continue;
      let at =
        (mixed(from[slot]!, from[slot + 1]!, from[slot + 2]!, packed >>> LENGTH_SHIFT) * STRIDE) & mask;
      while (to[at + 3] !== 0) at = (at + STRIDE) & mask;
      for (let k = 0; k < STRIDE; k++) to[at + k] = from[slot + k]!;
    }
    this.#short = to;
  }
}

/** Mixing after MurmurHash3's finaliser (Appleby, public domain), from memory; only speed depends on it. */
function mixed(a: number, b: number, c: number, length: number): number {
  let h = Math.imul(a ^ (length << 24), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13) ^ b, 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 16) ^ c, 0x85ebca6b);
  h ^= h >>> 13;
  return (h ^ (h >>> 16)) & 0x0fffffff;
}

const UTF8 = new TextDecoder("utf-8", { ignoreBOM: true });

/** The texts as strings. */
export function stringsOf({ bytes, ends }: PackedTexts): string[] {
  const texts: string[] = [];
  // Of ASCII a byte is a character, so that one long string can be cut up.
  const all = UTF8.decode(bytes);
  const isCut = all.length === bytes.length;
  let start = 0;
  for (const end of ends) {
    texts.push(isCut ? all.slice(start, end) : UTF8.decode(bytes.subarray(start, end)));
    start = end;
  }
  return texts;
}
