/** Bytes to text, chunk by chunk, in one encoding. */
import { isAscii } from "node:buffer";
import { decideEightBit, type Encoding, type SniffedEncoding } from "./sniff.ts";

/** What windows-1252 has at 0x80-0x9F (WHATWG Encoding, index windows-1252); five places are unused. */
const WINDOWS_1252_HIGH =
  "\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F" +
  "\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178";

/**
 * windows-1252 by hand: some Node releases decode it as ISO 8859-1 through TextDecoder, so that the same bytes would read
 * differently.
 */
export function decodeWindows1252(bytes: Uint8Array): string {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");
  return text.replace(/[\u0080-\u009f]/g, (c) => WINDOWS_1252_HIGH[c.charCodeAt(0) - 0x80]!);
}

/** A decoder that begins with what was sniffed and settles plain ASCII at the first other byte. */
export class StreamDecoder {
  #encoding: Encoding | "ascii";
  #decoder: TextDecoder | null = null;
  #evidence: string;

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
    if (this.#encoding === "ascii") {
      if (isAscii(bytes))
        return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");
      const decided = decideEightBit(bytes);
      this.#encoding = decided.encoding;
      this.#evidence = `${decided.evidence} (after a plain ASCII beginning)`;
      this.#settle();
    }
    if (this.#encoding === "windows-1252") return decodeWindows1252(bytes);
    return this.#decoder!.decode(bytes, { stream: true });
  }

  /** What is left of an unfinished character at the end of the file. */
  end(): string {
    return this.#decoder === null ? "" : this.#decoder.decode();
  }

  #settle(): void {
    if (this.#encoding !== "ascii" && this.#encoding !== "windows-1252")
      this.#decoder = new TextDecoder(this.#encoding, { ignoreBOM: true });
  }
}
