/** Replays past months in a thread of its own, for month-threads.ts. Started from the built output. */
import { parentPort } from "node:worker_threads";
import { exportFolder } from "../ingest/read-files.ts";
import { livesAt } from "../records/life-view.ts";
import { takeMonths } from "../replay-month.ts";
import type { MonthReply, PostedMonths } from "./month-threads.ts";
import { toldError } from "./told-error.ts";

const reply = (told: MonthReply): void => parentPort?.postMessage(told);

parentPort?.on("message", async ({ whole, exportsFolder, ...months }: PostedMonths) => {
  try {
    const given = { ...months, whole: { ...whole, lives: livesAt(whole.lives) } };
    reply({ kind: "outcomes", outcomes: await takeMonths(given, exportFolder(exportsFolder)) });
  } catch (error) {
    reply({ kind: "failed", ...toldError(error) });
  }
});
