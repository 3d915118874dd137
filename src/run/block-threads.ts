/** A pool of threads that read blocks. Which thread reads which block never shows in what is read. */
import { Worker } from "node:worker_threads";
import type { BlockAnswer, BlockMessage } from "../ingest/block-messages.ts";
import { type BlockPool, BlockRefused } from "../ingest/block-pool.ts";
import type { Piece } from "../ingest/block-reader.ts";

interface Waiting {
  readonly resolve: (piece: Piece) => void;
  readonly reject: (error: Error) => void;
}

class BlockThread {
  readonly #worker: Worker;
  readonly #waiting: Waiting[] = [];
  #failure: Error | null = null;

  constructor(script: URL) {
    this.#worker = new Worker(script);
    this.#worker.on("message", (answer: BlockAnswer) => {
      const { resolve, reject } = this.#waiting.shift()!;
      if (answer.kind === "piece") resolve(answer.piece);
      else reject(new BlockRefused(answer.why));
    });
    this.#worker.on("error", (error: Error) => this.#fail(error));
    this.#worker.on("exit", (code) => this.#fail(new Error(`a reading thread ended (code ${code})`)));
  }

  get busy(): number {
    return this.#waiting.length;
  }

  read(message: Extract<BlockMessage, { kind: "read" }>): Promise<Piece> {
    return new Promise((resolve, reject) => {
      if (this.#failure !== null) {
        reject(this.#failure);
        return;
      }
      this.#waiting.push({ resolve, reject });
      this.#worker.postMessage(message, [message.bytes.buffer as ArrayBuffer]);
    });
  }

  closeFile(file: number): void {
    this.#worker.postMessage({ kind: "close file", file } satisfies BlockMessage);
  }

  async close(): Promise<void> {
    this.#worker.removeAllListeners("exit");
    await this.#worker.terminate();
  }

  #fail(error: Error): void {
    this.#failure ??= error;
    for (const { reject } of this.#waiting.splice(0)) reject(this.#failure);
  }
}

/**
 * Starts threads that read blocks; whoever starts them closes the pool.
 *
 * @param script  the built read-block-worker: threads can't be started from TypeScript
 */
export function blockThreads(count: number, script: URL): BlockPool {
  const threads = Array.from({ length: count }, () => new BlockThread(script));
  let files = 0;
  return {
    atOnce: 2 * count,
    openFile: () => files++,
    async read(file, task) {
      const thread = threads.reduce((least, one) => (one.busy < least.busy ? one : least));
      return { piece: await thread.read({ kind: "read", file, ...task }), reader: thread };
    },
    closeFile: (file) => {
      for (const thread of threads) thread.closeFile(file);
    },
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
