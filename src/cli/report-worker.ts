/** The monthly run, away from the thread that watches over it. Started by report-process.ts from the built output. */
import { parentPort, workerData } from "node:worker_threads";
import { RotorwearError } from "../problems.ts";
import { fileEffects } from "../run/effects.ts";
import { monthlyRun } from "../run/monthly-run.ts";
import { thisProgram } from "../run/program.ts";
import { stages } from "../run/real-stages.ts";
import type { ReportJob, ReportMessage } from "./report-messages.ts";

const send = (message: ReportMessage): void => parentPort?.postMessage(message);

try {
  const job = workerData as ReportJob;
  const outcome = await monthlyRun({ ...job, program: thisProgram() }, fileEffects, stages, {
    say: (message, level) => send({ kind: "say", level, message }),
    progress: (doneBytes, totalBytes) => send({ kind: "progress", doneBytes, totalBytes }),
  });
  send({ kind: "done", outcome });
} catch (error) {
  const known = error instanceof RotorwearError ? { code: error.code, exitCode: error.exitCode } : null;
  const stack = error instanceof Error ? (error.stack ?? null) : null;
  send({ kind: "failed", known, message: error instanceof Error ? error.message : String(error), stack });
}
