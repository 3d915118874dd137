/** A pool of threads that read blocks. Which thread reads which block never shows in what is read. */
import type { BlockAnswer, BlockMessage } from "../ingest/block-messages.ts";
import { type BlockPool, BlockRefused } from "../ingest/block-pool.ts";
import { AskedThread } from "./asked-thread.ts";

/**
 * Starts threads that read blocks; whoever starts them closes the pool.
 *
 * @param script  the built read-block-worker: threads can't be started from TypeScript
 */
export function blockThreads(count: number, script: URL): BlockPool {
  const threads = Array.from(
    { length: count },
    () => new AskedThread<BlockMessage, BlockAnswer>(script, "a reading thread"),
  );
  let files = 0;
  return {
    atOnce: 2 * count,
    openFile: () => files++,
    async read(file, task) {
      const thread = threads.reduce((least, one) => (one.busy < least.busy ? one : least));
      const given = [task.bytes.buffer as ArrayBuffer];
      const answer = await thread.ask({ kind: "read", file, ...task }, given);
      if (answer.kind === "refused") throw new BlockRefused(answer.why);
      return { piece: answer.piece, reader: thread };
    },
    closeFile: (file) => {
      for (const thread of threads) thread.tell({ kind: "close file", file });
    },
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
