/**
 * Runs a month, or a replay, in a process of its own and watches over it. This process touches no output file while that one works, so
 * that it can always end at once and with the right exit code: on a signal, and when a share stalls for good.
 */
import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { EXIT, PublishError } from "../problems.ts";
import { abandonRun } from "../run/abandon.ts";
import { fileEffects } from "../run/effects.ts";
import { errorTold } from "../run/told-error.ts";
import { openProgress } from "./progress.ts";
import type { OutcomeOf, ReplayJob, ReportJob, ReportMessage } from "./report-messages.ts";
import type { Terminal } from "./terminal.ts";

/** How long the run's process gets to end once it is killed, and the clearing up after it; a second in all. */
const LAST_MOMENT_MS = 400;

const EXIT_OF = { SIGINT: EXIT.interrupted, SIGTERM: EXIT.terminated } as const;

/** Does the job in its process; throws what it threw. */
export async function superviseReport<Job extends ReportJob | ReplayJob>(
  job: Job,
  terminal: Terminal,
  showProgress: boolean,
): Promise<OutcomeOf<Job>> {
  const child = fork(fileURLToPath(new URL("../cli/report-process.js", import.meta.url)));
  const onInterrupt = () => void endBySignal(child, job, "SIGINT");
  const onTerminate = () => void endBySignal(child, job, "SIGTERM");
  process.on("SIGINT", onInterrupt);
  process.on("SIGTERM", onTerminate);
  const progress = openProgress(showProgress);
  try {
    child.send(job);
    return await outcomeOf<OutcomeOf<Job>>(child, (message) => {
      if (message.kind === "progress") progress.show(message.done, message.total, message.counting);
      else terminal.note(message.level, message.message);
    });
  } finally {
    progress.end();
    process.off("SIGINT", onInterrupt);
    process.off("SIGTERM", onTerminate);
    // All its work is done, or was given up: then a write may still hang in it.
    await killed(child);
  }
}

type Remark = Extract<ReportMessage, { kind: "say" | "progress" }>;

function outcomeOf<Outcome>(child: ChildProcess, onRemark: (message: Remark) => void): Promise<Outcome> {
  return new Promise((resolve, reject) => {
    child.on("message", (message) => {
      // What comes over this channel was sent by report-worker.ts.
      const told = message as ReportMessage;
      // …and its outcome is that of the job it was given.
      if (told.kind === "done") resolve(told.outcome as Outcome);
      else if (told.kind === "failed") reject(errorTold(told));
      else onRemark(told);
    });
    child.on("error", reject);
    child.on("exit", (code, signal) => reject(endedEarly(code, signal)));
  });
}

function endedEarly(code: number | null, signal: NodeJS.Signals | null): Error {
  if (signal === null) return new Error(`the run's process ended without a result (code ${code})`);
  return new PublishError(
    "E-ENDED",
    `the run's process was ended from outside by ${signal} (out of memory?); what was published is whole: run again, and ` +
      "where it happens again, see what the machine's own log says",
  );
}

/** Kills the run's process. True once it has ended; false where the system can't end it for now. */
function killed(child: ChildProcess): Promise<boolean> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve(true);
  return new Promise((resolve) => {
    const late = setTimeout(() => {
      // Nothing of it may keep this process from ending.
      child.unref();
      child.channel?.unref();
      resolve(false);
    }, LAST_MOMENT_MS);
    child.once("exit", () => {
      clearTimeout(late);
      resolve(true);
    });
    child.kill("SIGKILL");
  });
}

/** Ends within a second: the run's process killed, its lock and draft removed, the log told. */
async function endBySignal(
  child: ChildProcess,
  job: ReportJob | ReplayJob,
  signal: "SIGINT" | "SIGTERM",
): Promise<void> {
  child.removeAllListeners("exit");
  const pid = child.pid ?? 0;
  const ended = (await killed(child)) && (await cleared(abandonRun(fileEffects, { ...job, pid }, signal)));
  if (ended) process.exit(EXIT_OF[signal]);
  // The clearing up hangs too, and an orderly exit would wait for it: die of the signal itself.
  process.removeAllListeners(signal);
  process.kill(process.pid, signal);
}

const cleared = (work: Promise<void>): Promise<boolean> =>
  Promise.race([
    work.then(() => true),
    new Promise<boolean>((resolve) => setTimeout(() => resolve(false), LAST_MOMENT_MS)),
  ]);
