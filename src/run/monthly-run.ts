/**
 * The monthly run: fleet file and exports in, a published month out. In order:
 *
 *   fleet file → lock → leftovers cleared → exports hashed → done already? → computed aside → exports kept
 *   → manifest, checked → one rename → front page and `latest` → lock released → log
 *
 * Whatever fails on the way, the last publication is whole and the next run works.
 */
import { basename, dirname } from "node:path";
import type { Fleet } from "../fleet/fleet.ts";
import type { ExportSource } from "../ingest/source.ts";
import type { Month } from "../interval/month-result.ts";
import { PublishError, RotorwearError, UsageError } from "../problems.ts";
import { isoDate } from "../units.ts";
import { asOfFits } from "./as-of-fits.ts";
import { type ComputedMonth, computeMonth, REJECTED_FILE } from "./compute-month.ts";
import { clearLeftovers, type Draft, type ManifestHead, openDraft } from "./draft.ts";
import { type Effects, sha256Of } from "./effects.ts";
import { rebuildFrontPage } from "./front-page.ts";
import { type PreviousRun, previousRun, RUN_FILE } from "./history.ts";
import {
  assertSameInputs,
  countingSource,
  hashInputs,
  type InputFile,
  keepInputs,
  keepText,
} from "./inputs.ts";
import { type Lock, takeLock } from "./lock.ts";
import { MANIFEST_SCHEMA } from "./manifest.ts";
import { assertNotOwnOutput, type MonthlyRunOptions, prepareOutput } from "./output-folder.ts";
import { guardedOutput } from "./output-guard.ts";
import { type Raised, raisedBy } from "./raised.ts";
import { recogniseRun } from "./recognise.ts";
import { planThinning, thinMonths } from "./retention.ts";
import { logRun } from "./run-log.ts";
import { StageClock } from "./stage-clock.ts";
import type { Stages } from "./stages.ts";

export interface RunOutcome {
  readonly kind: "published" | "nothing to do";
  /** Name of the month's folder in the output folder. */
  readonly folder: string;
  readonly raised: readonly Raised[];
}

/** How a message matters: a warning is trouble that was got over, and is said with --quiet too. */
export type Told = "info" | "warning";

/** Who is told what goes on. */
export interface RunWatcher {
  /** One sentence at a time. */
  say(message: string, level: Told): void;
  /** Bytes of exports read by the pipeline so far. */
  progress(doneBytes: number, totalBytes: number): void;
}

interface RunContext {
  readonly options: MonthlyRunOptions;
  readonly stages: Stages;
  /** The output folder, guarded. */
  readonly output: Effects;
  readonly say: (message: string) => void;
  readonly warn: (message: string) => void;
  readonly progress: RunWatcher["progress"];
  readonly onStage: StageClock["start"];
}

interface RunInputs {
  readonly fleetBytes: Uint8Array;
  readonly fleetText: string;
  readonly fleet: Fleet;
  readonly source: ExportSource;
  readonly inputs: readonly InputFile[];
}

/**
 * Runs a month and publishes it.
 *
 * @throws UsageError, ExportError, PublishError; anything else is a bug
 */
export async function monthlyRun(
  options: MonthlyRunOptions,
  effects: Effects,
  stages: Stages,
  watcher: RunWatcher,
): Promise<RunOutcome> {
  const messages: string[] = [];
  const tell = (level: Told) => (message: string) => {
    messages.push(message);
    watcher.say(message, level);
  };
  const warn = tell("warning");
  const started = effects.now();
  const output = guardedOutput(effects, warn);
  const clock = new StageClock(effects.now);
  const finish = async (result: RunOutcome | { kind: "failed"; problem: string }) => {
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
  // What became of the month is what counts; that the log can't be written is only mentioned.
  const mention = (error: unknown) =>
    watcher.say(`the run's log line couldn't be written: ${problemText(error)}`, "warning");
  try {
    const outcome = await runUnlogged(
      { options, stages, output, say: tell("info"), warn, progress: watcher.progress, onStage: clock.start },
      effects,
    );
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

/** Reads the fleet file as bytes and text. */
export async function readFleetFile(effects: Effects, path: string): Promise<Uint8Array> {
  try {
    return await effects.read(path);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new UsageError("E-FLEET-READ", `${path}: expected a fleet file that can be read, got: ${why}`);
  }
}

async function runUnlogged(context: RunContext, effects: Effects): Promise<RunOutcome> {
  const { options, stages, output, say, warn } = context;
  context.onStage("hashing exports");
  const fleetBytes = await readFleetFile(effects, options.fleetFile);
  const fleetText = Buffer.from(fleetBytes).toString("utf8");
  const fleet = stages.readFleet(fleetText, basename(options.fleetFile));
  const source = stages.exportFolder(options.exportsFolder ?? dirname(options.fleetFile));
  const inputs = await hashInputs(fleet, source);
  assertNotOwnOutput(options, inputs);
  await prepareOutput(output, options);
  const lock = await takeLock(output, options.outFolder, warn);
  try {
    await clearLeftovers(output, options.outFolder, say);
    const done = await recogniseRun(output, options, sha256Of(fleetBytes), inputs, { say, warn });
    if (done !== null) {
      await thinOldMonths(context, done.folder);
      await rebuildFrontPage(output, options.outFolder, stages.renderFrontPage);
      say(`nothing to do: ${done.folder} was made from the same inputs, settings and program`);
      return { kind: "nothing to do", ...done };
    }
    const draft = await openDraft(output, options.outFolder);
    try {
      return await computeAndPublish(context, lock, draft, { fleetBytes, fleetText, fleet, source, inputs });
    } catch (error) {
      await draft
        .discard()
        .catch((failure) => warn(`couldn't clear ${draft.folder}: ${problemText(failure)}`));
      throw error;
    }
  } finally {
    await lock.release().catch((failure) => warn(`couldn't remove the lock: ${problemText(failure)}`));
  }
}

async function computeAndPublish(
  context: RunContext,
  lock: Lock,
  draft: Draft,
  inputs: RunInputs,
): Promise<RunOutcome> {
  const { options, output, say, warn } = context;
  const { month, previous, files } = await computeAside(context, draft, inputs);
  context.onStage("publishing");
  assertSameInputs(inputs.inputs, month.inputs);
  const gap = asOfFits(month);
  if (gap !== null) warn(gap);
  for (const file of files) await draft.write(file.path, file.text);
  if (options.keepInputs) {
    await keepInputs(output, options.outFolder, inputs.inputs, inputs.source);
    await keepText(output, options.outFolder, basename(options.fleetFile), inputs.fleetBytes);
    if (previous !== null) await keepText(output, options.outFolder, RUN_FILE, previous.content);
  }
  const head = manifestHead(options, month, previous, inputs);
  const folder = await draft.publish(head, await draft.files(), lock);
  say(`published ${folder}`);
  await switchFrontPage(context, folder);
  return { kind: "published", folder, raised: head.raised };
}

async function computeAside(context: RunContext, draft: Draft, given: RunInputs): Promise<ComputedMonth> {
  const { options, stages, output, warn } = context;
  const totalBytes = given.inputs.reduce((sum, input) => sum + input.bytes, 0);
  const rejected = await draft.spool(REJECTED_FILE);
  try {
    return await computeMonth(stages, {
      fleet: given.fleet,
      fleetText: given.fleetText,
      source: countingSource(given.source, (bytes) => context.progress(bytes, totalBytes)),
      asOf: options.asOf,
      program: options.program.name,
      rejected: (text) => rejected.write(text),
      previous: (month) => previousRun(output, options.outFolder, month.month, warn),
      onStage: context.onStage,
    });
  } finally {
    await rejected.close();
  }
}

function manifestHead(
  options: MonthlyRunOptions,
  month: Month,
  previous: PreviousRun | null,
  given: RunInputs,
): ManifestHead {
  return {
    schema: MANIFEST_SCHEMA,
    month: month.month,
    as_of: isoDate(month.asOf),
    as_of_asked: options.asOf === null ? null : isoDate(options.asOf),
    program: options.program.name,
    program_sha256: options.program.sha256,
    fleet_file: { file: basename(options.fleetFile), sha256: sha256Of(given.fleetBytes) },
    inputs: given.inputs.map(({ file, kind, sha256, bytes }) => ({ file, kind, sha256, bytes })),
    previous: previous === null ? null : { folder: previous.folder, sha256: previous.sha256 },
    raised: raisedBy(month),
  };
}

/** Removes old pages; never those of the month that this run made or found, however old it is. */
async function thinOldMonths({ options, output, say }: RunContext, ownFolder: string): Promise<void> {
  if (options.keepMonths === null) return;
  const planned = await planThinning(output, options.outFolder, options.keepMonths);
  const plan = planned.filter(({ folder }) => folder !== ownFolder);
  await thinMonths(output, options.outFolder, plan);
  for (const { folder, files } of plan)
    say(`removed ${files.length} files of ${folder} (--keep); its run.json stays`);
}

async function switchFrontPage(context: RunContext, folder: string): Promise<void> {
  const { options, stages, output } = context;
  try {
    await thinOldMonths(context, folder);
    const latest = await rebuildFrontPage(output, options.outFolder, stages.renderFrontPage);
    if (latest !== null && latest !== folder)
      context.warn(`latest stays ${latest}: a later month than ${folder} is published`);
  } catch (error) {
    if (!(error instanceof PublishError)) throw error;
    throw new PublishError(
      error.code,
      `${folder} is published and whole, but index.html and latest still point to the month before: ` +
        `${error.message}; the next run mends that`,
    );
  }
}
