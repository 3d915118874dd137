/** Answers parts in a thread of its own, for part-threads.ts. Started from the built output. */
import { parentPort } from "node:worker_threads";
import { partAnswers } from "../interval/part-answers.ts";
import { livesFrom } from "../records/life-view.ts";
import type { PartReply, PostedJob } from "./part-threads.ts";

const reply = (told: PartReply): void => parentPort?.postMessage(told);

parentPort?.on("message", (job: PostedJob) => {
  try {
    // How long its stages take is this thread's own affair: the log tells of the thread that leads.
    reply({ kind: "answers", answers: partAnswers({ ...job, lives: livesFrom(job.lives) }, () => {}) });
  } catch (error) {
    reply({ kind: "failed", error: error instanceof Error ? error : new Error(String(error)) });
  }
});
