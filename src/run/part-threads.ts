/** Threads that answer parts of a month beside the one that leads. */
import type { PartThread } from "../interval/answer-parts.ts";
import type { PartAnswers, PartJob } from "../interval/part-answers.ts";
import { type LifeColumns, lifeColumns } from "../records/life-columns.ts";
import { AskedThread } from "./asked-thread.ts";

/** What a thread tells of a job, in the order of the jobs. */
export type PartReply =
  | { readonly kind: "answers"; readonly answers: PartAnswers }
  | { readonly kind: "failed"; readonly error: Error };

/** A job as it is posted: its lives in shared columns. */
export type PostedJob = Omit<PartJob, "lives"> & { readonly lives: LifeColumns };

/** Threads at work, to be closed by whoever started them. */
export interface PartThreads {
  readonly threads: readonly PartThread[];
  close(): Promise<void>;
}

const answers = async (thread: AskedThread<PostedJob, PartReply>, job: PartJob): Promise<PartAnswers> => {
  const told = await thread.ask({ ...job, lives: lifeColumns(job.lives) });
  if (told.kind === "answers") return told.answers;
  throw told.error;
};

/**
 * Starts threads; they load their programs while the exports are read.
 *
 * @param script  the built part-worker: threads can't be started from TypeScript
 */
export function startPartThreads(count: number, script: URL): PartThreads {
  const threads = Array.from(
    { length: count },
    () => new AskedThread<PostedJob, PartReply>(script, "a thread that answers parts"),
  );
  return {
    threads: threads.map((thread) => ({ answer: (job) => answers(thread, job) })),
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
