/** Bytes to text, chunk by chunk, in one encoding. */
import { isAscii } from "node:buffer";
import { decideEightBit, type Encoding, type SniffedEncoding } from "./sniff.ts";

/** What windows-1252 has at 0x80-0x9F (WHATWG Encoding, index windows-1252); five places are unused. */
const WINDOWS_1252_HIGH =
  "\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F" +
  "\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178";

/** Bytes of the longest UTF-8 character. */
const LONGEST_CHARACTER = 4;

const latin1 = (bytes: Uint8Array): string =>
  Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");

/**
 * windows-1252 by hand: some Node releases decode it as ISO 8859-1 through TextDecoder, so that the same bytes would read
 * differently.
 */
export function decodeWindows1252(bytes: Uint8Array): string {
  const text = latin1(bytes);
  return text.replace(/[\u0080-\u009f]/g, (c) => WINDOWS_1252_HIGH[c.charCodeAt(0) - 0x80]!);
}

/** A decoder that begins with what was sniffed and settles plain ASCII at the first other byte. */
export class StreamDecoder {
  #encoding: Encoding | "ascii";
  #decoder: TextDecoder | null = null;
  #evidence: string;
  /** Bytes that begin a character, kept until the next ones tell of which encoding. */
  #held: Uint8Array = new Uint8Array(0);

  constructor(sniffed: SniffedEncoding) {
    this.#encoding = sniffed.encoding;
    this.#evidence = sniffed.evidence;
    this.#settle();
  }

  get evidence(): string {
    return this.#evidence;
  }

  /** Text of the next bytes; bytes that are none in the encoding become U+FFFD. */
  decode(bytes: Uint8Array): string {
    if (this.#encoding === "ascii") return this.#decodeAscii(bytes);
    return this.#encoding === "windows-1252"
      ? decodeWindows1252(bytes)
      : this.#decoder!.decode(bytes, { stream: true });
  }

  /** What is left of an unfinished character at the end of the file. */
  end(): string {
    const held = this.#held;
    this.#held = new Uint8Array(0);
    if (held.length > 0) this.#decide(held, true);
    return (
      (held.length > 0 ? this.decode(held) : "") + (this.#decoder === null ? "" : this.#decoder.decode())
    );
  }

  #decodeAscii(next: Uint8Array): string {
    const bytes = this.#held.length === 0 ? next : Buffer.concat([this.#held, next]);
    this.#held = new Uint8Array(0);
    if (isAscii(bytes)) return latin1(bytes);
    const first = bytes.findIndex((byte) => byte >= 0x80);
    // The beginning of a character alone could be either; the next bytes tell.
    if (bytes.length - first < LONGEST_CHARACTER) {
      this.#held = bytes.slice(first);
      return latin1(bytes.subarray(0, first));
    }
    this.#decide(bytes, false);
    return this.decode(bytes);
  }

  #decide(bytes: Uint8Array, isWhole: boolean): void {
    const decided = decideEightBit(bytes, isWhole);
    this.#encoding = decided.encoding;
    this.#evidence = `${decided.evidence} (after a plain ASCII beginning)`;
    this.#settle();
  }

  #settle(): void {
    if (this.#encoding !== "ascii" && this.#encoding !== "windows-1252")
      this.#decoder = new TextDecoder(this.#encoding, { ignoreBOM: true });
  }
}
