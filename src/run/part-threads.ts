/** Threads that answer groups of a month's parts beside the one that leads. */
import type { PartThread, PieceAnswer, Pieces } from "../interval/part-pieces.ts";
import { type LifePlaces, placesOf } from "../records/life-view.ts";
import { AskedThread } from "./asked-thread.ts";
import { errorTold, type ToldError } from "./told-error.ts";

/** What a thread tells when it finds no piece left. */
export type PartReply =
  | { readonly kind: "answers"; readonly answers: readonly PieceAnswer[] }
  | ({ readonly kind: "failed" } & ToldError);

/** Pieces as they are posted: lives in shared columns. */
export type PostedPieces = Omit<Pieces, "parts"> & {
  readonly parts: readonly (Omit<Pieces["parts"][number], "lives"> & { readonly lives: LifePlaces })[];
};

/** Threads at work, to be closed by whoever started them. */
export interface PartThreads {
  readonly threads: readonly PartThread[];
  close(): Promise<void>;
}

const answers = async (
  thread: AskedThread<PostedPieces, PartReply>,
  pieces: Pieces,
): Promise<readonly PieceAnswer[]> => {
  const parts = pieces.parts.map((part) => ({ ...part, lives: placesOf(part.lives) }));
  const told = await thread.ask({ ...pieces, parts });
  if (told.kind === "answers") return told.answers;
  throw errorTold(told);
};

/**
 * Starts threads; they load their programs while the exports are read.
 *
 * @param script  the built part-worker: threads can't be started from TypeScript
 */
export function startPartThreads(count: number, script: URL): PartThreads {
  const threads = Array.from(
    { length: count },
    () => new AskedThread<PostedPieces, PartReply>(script, "a thread that answers groups"),
  );
  return {
    threads: threads.map((thread) => ({ takePieces: (pieces) => answers(thread, pieces) })),
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
