/**
 * The steps that every publishing run takes, whatever it computes: the log around it, fleet file and exports before it,
 * and the lock and the draft in which its work is done.
 */
import { basename } from "node:path";
import type { Fleet } from "../fleet/fleet.ts";
import type { ExportSource } from "../ingest/source.ts";
import { RotorwearError } from "../problems.ts";
import { clearLeftovers, type Draft, openDraft } from "./draft.ts";
import type { Effects } from "./effects.ts";
import { hashInputs, type InputFile } from "./inputs.ts";
import { type Lock, takeLock } from "./lock.ts";
import { assertNotOwnOutput, exportsFolderOf, type PublishingRun, prepareOutput } from "./output-folder.ts";
import { guardedOutput } from "./output-guard.ts";
import { readFleetFile } from "./read-fleet-file.ts";
import { logRun } from "./run-log.ts";
import { StageClock } from "./stage-clock.ts";
import type { Stages } from "./stages.ts";

/** How a message matters: a warning is trouble that was got over, and is said with --quiet too. */
export type Told = "info" | "warning";

/** What the count of a run's progress counts. */
export type Counting = "bytes" | "months";

/** Who is told what goes on. */
export interface RunWatcher {
  /** One sentence at a time. */
  say(message: string, level: Told): void;
  /** Bytes of exports read by the pipeline so far, or months replayed. */
  progress(done: number, total: number, counting: Counting): void;
}

/** What a run works with. */
export interface RunTools {
  /** The output folder, guarded. */
  readonly output: Effects;
  readonly say: (message: string) => void;
  readonly warn: (message: string) => void;
  readonly progress: RunWatcher["progress"];
  readonly onStage: StageClock["start"];
}

interface Outcome {
  readonly kind: "published" | "nothing to do";
  readonly folder: string;
}

/** Does a run's work with its output guarded, and adds a line about it to the log, however it ends. */
export async function loggedRun<T extends Outcome>(
  options: PublishingRun,
  effects: Effects,
  watcher: RunWatcher,
  work: (tools: RunTools) => Promise<T>,
): Promise<T> {
  const messages: string[] = [];
  const tell = (level: Told) => (message: string) => {
    messages.push(message);
    watcher.say(message, level);
  };
  const warn = tell("warning");
  const started = effects.now();
  const output = guardedOutput(effects, warn);
  const clock = new StageClock(effects.now);
  const finish = async (result: Outcome | { kind: "failed"; problem: string }) => {
    const failed = result.kind === "failed";
    await logRun(output, options.outFolder, {
      run: options.run,
      started: started.toISOString(),
      ended: effects.now().toISOString(),
      host: effects.host,
      pid: effects.pid,
      node: process.version,
      program: options.program.name,
      fleet_file: options.fleetFile,
      outcome: result.kind,
      month: failed ? null : result.folder,
      problem: failed ? result.problem : null,
      messages,
      stage_seconds: clock.seconds(),
    });
  };
  // What became of the run is what counts; that the log can't be written is only mentioned.
  const mention = (error: unknown) =>
    watcher.say(`the run's log line couldn't be written: ${problemText(error)}`, "warning");
  try {
    const { progress } = watcher;
    const outcome = await work({ output, say: tell("info"), warn, progress, onStage: clock.start });
    await finish(outcome).catch(mention);
    return outcome;
  } catch (error) {
    await finish({ kind: "failed", problem: problemText(error) }).catch(mention);
    throw error;
  }
}

const problemText = (error: unknown): string =>
  error instanceof RotorwearError
    ? error.message
    : error instanceof Error
      ? `bug: ${error.stack}`
      : String(error);

/** What a run is made from, hashed before anything is computed. */
export interface RunInputs {
  readonly fleetBytes: Uint8Array;
  readonly fleetText: string;
  readonly fleet: Fleet;
  readonly source: ExportSource;
  readonly inputs: readonly InputFile[];
}

/** The fleet file read and the exports hashed. Throws UsageError or ExportError where they can't be used. */
export async function readRunInputs(
  options: PublishingRun,
  stages: Pick<Stages, "readFleet" | "exportFolder">,
  effects: Effects,
): Promise<RunInputs> {
  const fleetBytes = await readFleetFile(effects, options.fleetFile);
  const fleetText = Buffer.from(fleetBytes).toString("utf8");
  const fleet = stages.readFleet(fleetText, basename(options.fleetFile));
  const source = stages.exportFolder(exportsFolderOf(options));
  const inputs = await hashInputs(fleet, source);
  assertNotOwnOutput(options, inputs);
  return { fleetBytes, fleetText, fleet, source, inputs };
}

/** The output folder made ready, locked, and cleared of what dead runs left in it, while the work is done. */
export async function inLockedFolder<T>(
  options: PublishingRun,
  { output, say, warn }: RunTools,
  work: (lock: Lock) => Promise<T>,
): Promise<T> {
  await prepareOutput(output, options);
  const lock = await takeLock(output, options.outFolder, warn);
  try {
    await clearLeftovers(output, options.outFolder, say);
    return await work(lock);
  } finally {
    await lock.release().catch((failure) => warn(`couldn't remove the lock: ${problemText(failure)}`));
  }
}

/** A draft to work in, cleared away where the work fails. */
export async function inDraft<T>(
  outFolder: string,
  { output, warn }: RunTools,
  work: (draft: Draft) => Promise<T>,
): Promise<T> {
  const draft = await openDraft(output, outFolder);
  try {
    return await work(draft);
  } catch (error) {
    await draft.discard().catch((failure) => warn(`couldn't clear ${draft.folder}: ${problemText(failure)}`));
    throw error;
  }
}
