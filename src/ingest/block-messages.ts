/** What the thread that reads a file and those that read its blocks tell each other. */
import type { BlockTask } from "./block-pool.ts";
import type { Piece } from "./block-reader.ts";

export type BlockMessage =
  | ({ readonly kind: "read"; readonly file: number } & BlockTask)
  | { readonly kind: "close file"; readonly file: number };

/** One for each block, in the order in which the blocks came. */
export type BlockAnswer =
  | { readonly kind: "piece"; readonly piece: Piece }
  /** The block can't be read by itself, or there is a bug: read in order, the file tells which. */
  | { readonly kind: "refused"; readonly why: string };

/** The buffers of a piece, which change hands instead of being copied. */
export const buffersOf = ({ line, codes, newTexts }: Piece): ArrayBuffer[] =>
  [line, ...codes, ...newTexts.flatMap(({ bytes, ends }) => [bytes, ends])].map(
    ({ buffer }) => buffer as ArrayBuffer,
  );
