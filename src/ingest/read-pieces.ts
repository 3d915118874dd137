/**
 * The pieces of one file, read by whoever can: blocks without a quote by the pool, in any order; from the first quote on by
 * this thread, in order, since a quoted cell may go on in the next block; UTF-16 and endless lines by way of text.
 */
import { isAscii } from "node:buffer";
import type { BlockPool } from "./block-pool.ts";
import { BlockReader, type Piece } from "./block-reader.ts";
import { StreamDecoder } from "./decode.ts";
import { FileAssembly, type Reader } from "./file-assembly.ts";
import { type LineBlock, lineBlocks } from "./line-blocks.ts";
import { LineSplitter } from "./lines.ts";
import type { TakerSetup } from "./row-taker.ts";
import type { ByteEncoding } from "./scan-line.ts";
import { decideEightBit, type SniffedEncoding } from "./sniff.ts";

const QUOTE = 34;

type Next = () => Promise<Uint8Array | null>;

export interface FilePieces {
  readonly assembly: FileAssembly;
  readonly encodingEvidence: string;
}

/** @param head  the file's first bytes, without a byte-order mark */
export async function readPieces(
  setup: TakerSetup,
  sniffed: SniffedEncoding,
  head: Uint8Array,
  next: Next,
  pool: BlockPool | null,
): Promise<FilePieces> {
  const reading = new PieceReading(setup, pool);
  try {
    return await reading.run(sniffed, head, next);
  } finally {
    reading.close();
  }
}

class PieceReading {
  readonly #setup: TakerSetup;
  readonly #assembly: FileAssembly;
  readonly #pool: BlockPool | null;
  readonly #file: number;
  /** Reads in order, once that is needed. */
  #own: BlockReader | null;
  #underWay: Promise<{ piece: Piece; reader: Reader; isFirst: boolean }>[] = [];
  #blocks = 0;

  constructor(setup: TakerSetup, pool: BlockPool | null) {
    this.#setup = setup;
    this.#assembly = new FileAssembly(setup.heading);
    this.#pool = pool;
    this.#file = pool?.openFile() ?? 0;
    this.#own = pool === null ? new BlockReader(setup) : null;
  }

  async run(sniffed: SniffedEncoding, head: Uint8Array, next: Next): Promise<FilePieces> {
    const { encoding } = sniffed;
    let evidence = sniffed.evidence;
    if (encoding === "utf-16le" || encoding === "utf-16be")
      evidence = await this.#readText(new StreamDecoder(sniffed), head, next);
    else {
      let now: ByteEncoding = encoding;
      for await (const block of lineBlocks(head, next)) {
        if (now === "ascii" && !isAscii(block.bytes)) {
          const decided = decideEightBit(block.bytes, block.isWhole);
          now = decided.encoding as ByteEncoding;
          evidence = `${decided.evidence} (after a plain ASCII beginning)`;
        }
        if (block.isWhole) await this.#readBlock(block, now);
        else
          await this.#readText(
            new StreamDecoder({ encoding: now, markBytes: 0, evidence }),
            block.bytes,
            next,
          );
      }
    }
    await this.#drain();
    if (this.#own !== null) this.#assembly.add(this.#own.end(), this.#own, 0);
    return { assembly: this.#assembly, encodingEvidence: evidence };
  }

  close(): void {
    this.#pool?.closeFile(this.#file);
  }

  async #readBlock({ bytes }: LineBlock, encoding: ByteEncoding): Promise<void> {
    if (this.#pool === null || this.#own !== null || bytes.includes(QUOTE)) {
      const own = await this.#inOrder();
      this.#assembly.add(own.read(bytes, encoding), own, 0);
      return;
    }
    const isFirst = this.#blocks++ === 0;
    const linesBefore = isFirst ? 0 : this.#headingEnd;
    const task = { setup: this.#setup, bytes, encoding, linesBefore };
    const reading = this.#pool.read(this.#file, task).then((read) => ({ ...read, isFirst }));
    // It may fail while an earlier one is waited for; whoever waits for this one hears of it.
    reading.catch(() => {});
    this.#underWay.push(reading);
    if (this.#underWay.length >= this.#pool.atOnce) await this.#addNext();
  }

  /** By way of text to the end of the file; gives the evidence of its encoding. */
  async #readText(decoder: StreamDecoder, first: Uint8Array, next: Next): Promise<string> {
    const own = await this.#inOrder();
    const splitter = new LineSplitter();
    for (let chunk: Uint8Array | null = first; chunk !== null; chunk = await next())
      this.#assembly.add(own.readLines(splitter.push(decoder.decode(chunk))), own, 0);
    const last = [...splitter.push(decoder.end()), ...splitter.end()];
    this.#assembly.add(own.readLines(last), own, 0);
    this.#assembly.addEnds(splitter.ends);
    return decoder.evidence;
  }

  /** This thread's own reader, with all that comes before it added. */
  async #inOrder(): Promise<BlockReader> {
    if (this.#own !== null) return this.#own;
    await this.#drain();
    this.#own = new BlockReader(this.#setup, this.#assembly.counts.lines);
    return this.#own;
  }

  async #drain(): Promise<void> {
    while (this.#underWay.length > 0) await this.#addNext();
  }

  async #addNext(): Promise<void> {
    const { piece, reader, isFirst } = await this.#underWay[0]!;
    this.#underWay.shift();
    // Blocks beyond the first count their lines from the heading's end.
    this.#assembly.add(piece, reader, isFirst ? 0 : this.#assembly.counts.lines - this.#headingEnd);
  }

  get #headingEnd(): number {
    const { line, lines } = this.#setup.heading;
    return line + lines - 1;
  }
}
