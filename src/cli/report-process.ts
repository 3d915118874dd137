/**
 * The process that a month is run in, or past months are replayed in, with the work itself in a thread of its own. It is a process apart because a share
 * that stalls can hold a process for ever: report.ts then ends this one and still gives its exit code. It never outlives
 * report.ts: where that is killed, so is this, at once.
 */
import { setFlagsFromString } from "node:v8";
import { Worker } from "node:worker_threads";
import type { ReportMessage } from "./report-messages.ts";

/**
 * A month's code runs for seconds: with V8's usual budget a good part of both processors goes into optimising functions, many
 * of them more than once, since too little was seen of them the first time. Six times the budget takes a demonstration month
 * from 10.1 s to 8.2 s of wall and from 17.3 s to 13.1 s of processor (Node 20.20, two cores). Later V8s have another compiler
 * in between and are left as they are. Results don't depend on it.
 */
const isMeasured = process.versions.v8.startsWith("11.");
if (isMeasured) setFlagsFromString("--interrupt-budget=400000");

/**
 * Each thread's heap may grow to twice what is in use before it is cleared, where V8 would let it grow to four times: a month
 * of a million readings peaks at 0.99 GB and not at 1.14 GB, one of 100 thousand at 0.53 GB and not at 0.59 GB, both for the same
 * processor time; the demonstration takes 3 % longer.
 */
if (isMeasured) setFlagsFromString("--heap-growing-percent=100");

const send = (message: ReportMessage): void => {
  process.send?.(message);
};

process.on("disconnect", () => process.kill(process.pid, "SIGKILL"));
// A terminal or service manager signals both processes; report.ts decides what is done about it.
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => {});

process.once("message", (job: unknown) => {
  const worker = new Worker(new URL("../cli/report-worker.js", import.meta.url), { workerData: job });
  worker.on("message", send);
  worker.on("error", (error) =>
    send({ kind: "failed", known: null, message: error.message, stack: error.stack ?? null }),
  );
});
