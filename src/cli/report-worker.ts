/** The monthly run or a replay, away from the thread that watches over it. Started by report-process.ts from the built output. */
import { parentPort, workerData } from "node:worker_threads";
import { fileEffects } from "../run/effects.ts";
import { monthlyRun } from "../run/monthly-run.ts";
import { thisProgram } from "../run/program.ts";
import { stages } from "../run/real-stages.ts";
import { recordRun } from "../run/record-run.ts";
import type { RunWatcher } from "../run/run-steps.ts";
import { toldError } from "../run/told-error.ts";
import type { ReplayJob, ReportJob, ReportMessage } from "./report-messages.ts";

const send = (message: ReportMessage): void => parentPort?.postMessage(message);

const watcher: RunWatcher = {
  say: (message, level) => send({ kind: "say", level, message }),
  progress: (done, total, counting) => send({ kind: "progress", done, total, counting }),
};

try {
  const job = workerData as ReportJob | ReplayJob;
  const program = thisProgram();
  const outcome =
    job.command === "report"
      ? await monthlyRun({ ...job, program }, fileEffects, stages, watcher)
      : await recordRun({ ...job, program, keepInputs: false }, fileEffects, stages, watcher);
  send({ kind: "done", outcome });
} catch (error) {
  send({ kind: "failed", ...toldError(error) });
}
