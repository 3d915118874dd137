/** Threads that answer parts of a month beside the one that leads. */
import { Worker } from "node:worker_threads";
import type { PartThread } from "../interval/answer-parts.ts";
import type { PartAnswers, PartJob } from "../interval/part-answers.ts";
import { type LifeColumns, lifeColumns } from "../records/life-columns.ts";

/** What a thread tells of a job, in the order of the jobs. */
export type PartReply =
  | { readonly kind: "answers"; readonly answers: PartAnswers }
  | { readonly kind: "failed"; readonly message: string; readonly stack: string | null };

interface Waiting {
  readonly resolve: (answers: PartAnswers) => void;
  readonly reject: (error: Error) => void;
}

/** A job as it is posted: its lives in shared columns. */
export type PostedJob = Omit<PartJob, "lives"> & { readonly lives: LifeColumns };

/** Threads at work, to be closed by whoever started them. */
export interface PartThreads {
  readonly threads: readonly PartThread[];
  close(): Promise<void>;
}

class StartedThread implements PartThread {
  readonly #worker: Worker;
  readonly #waiting: Waiting[] = [];
  #failure: Error | null = null;

  constructor(script: URL) {
    this.#worker = new Worker(script);
    this.#worker.on("message", (told: PartReply) => {
      const { resolve, reject } = this.#waiting.shift()!;
      if (told.kind === "answers") resolve(told.answers);
      else reject(Object.assign(new Error(told.message), told.stack !== null && { stack: told.stack }));
    });
    this.#worker.on("error", (error: Error) => this.#fail(error));
    this.#worker.on("exit", (code) =>
      this.#fail(new Error(`a thread that answers parts ended (code ${code})`)),
    );
  }

  answer(job: PartJob): Promise<PartAnswers> {
    return new Promise((resolve, reject) => {
      if (this.#failure !== null) {
        reject(this.#failure);
        return;
      }
      this.#waiting.push({ resolve, reject });
      this.#worker.postMessage({ ...job, lives: lifeColumns(job.lives) } satisfies PostedJob);
    });
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
 * Starts threads; they load their programs while the exports are read.
 *
 * @param script  the built part-worker: threads can't be started from TypeScript
 */
export function startPartThreads(count: number, script: URL): PartThreads {
  const threads = Array.from({ length: count }, () => new StartedThread(script));
  return {
    threads,
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
