/** Others that read blocks of whole lines beside this thread; who they are is decided where the program starts. */
import type { Piece } from "./block-reader.ts";
import type { Reader } from "./file-assembly.ts";
import type { TakerSetup } from "./row-taker.ts";
import type { ByteEncoding } from "./scan-line.ts";

/** A block holds something that only shows where the file is read in order, such as a second heading. */
export class BlockRefused extends Error {}

export interface BlockTask {
  readonly setup: TakerSetup;
  /** Given away: nobody may use them afterwards. */
  readonly bytes: Uint8Array;
  readonly encoding: ByteEncoding;
  readonly linesBefore: number;
}

export interface BlockPool {
  /** How many blocks are worth being under way at once. */
  readonly atOnce: number;
  /** Reads the next block of a file (by a number of its own). Throws BlockRefused. */
  read(file: number, task: BlockTask): Promise<{ readonly piece: Piece; readonly reader: Reader }>;
  /** A number for a file whose blocks will come. */
  openFile(): number;
  /** No more blocks of it. */
  closeFile(file: number): void;
  close(): Promise<void>;
}
