/**
 * The monthly run: fleet file and exports in, a published month out. In order:
 *
 *   fleet file → lock → leftovers cleared → exports hashed → done already? → computed aside → exports kept
 *   → manifest, checked → one rename → front page and `latest` → lock released → log
 *
 * Whatever fails on the way, the last publication is whole and the next run works.
 */
import { basename } from "node:path";
import type { Month } from "../interval/month-result.ts";
import { PublishError } from "../problems.ts";
import { isoDate } from "../units.ts";
import { asOfFits } from "./as-of-fits.ts";
import { type ComputedMonth, computeMonth, REJECTED_FILE } from "./compute-month.ts";
import type { Draft, ManifestHead } from "./draft.ts";
import { withDrawing } from "./drawing-means.ts";
import { type Effects, sha256Of } from "./effects.ts";
import { rebuildFrontPage } from "./front-page.ts";
import { type PreviousRun, previousRun, RUN_FILE } from "./history.ts";
import { assertSameInputs, countingSource, keepInputs, keepText } from "./inputs.ts";
import type { Lock } from "./lock.ts";
import { MANIFEST_SCHEMA } from "./manifest.ts";
import type { MonthlyRunOptions } from "./output-folder.ts";
import { type Raised, raisedBy } from "./raised.ts";
import { withReadingMeans } from "./reading-means.ts";
import { recogniseRun } from "./recognise.ts";
import { planThinning, thinMonths } from "./retention.ts";
import {
  inDraft,
  inLockedFolder,
  loggedRun,
  type RunInputs,
  type RunTools,
  type RunWatcher,
  readRunInputs,
} from "./run-steps.ts";
import type { Stages } from "./stages.ts";

export interface RunOutcome {
  readonly kind: "published" | "nothing to do";
  /** Name of the month's folder in the output folder. */
  readonly folder: string;
  readonly raised: readonly Raised[];
}

interface RunContext extends RunTools {
  readonly options: MonthlyRunOptions;
  readonly stages: Stages;
}

/**
 * Runs a month and publishes it.
 *
 * @throws UsageError, ExportError, PublishError; anything else is a bug
 */
export const monthlyRun = (
  options: MonthlyRunOptions,
  effects: Effects,
  stages: Stages,
  watcher: RunWatcher,
): Promise<RunOutcome> =>
  loggedRun(options, effects, watcher, (tools) => runUnlogged({ ...tools, options, stages }, effects));

async function runUnlogged(context: RunContext, effects: Effects): Promise<RunOutcome> {
  const { options, stages, output, say, warn } = context;
  context.onStage("hashing exports");
  const given = await readRunInputs(options, stages, effects);
  return inLockedFolder(options, context, async (lock) => {
    const done = await recogniseRun(output, options, sha256Of(given.fleetBytes), given.inputs, { say, warn });
    if (done === null) {
      return inDraft(options.outFolder, context, (draft) => computeAndPublish(context, lock, draft, given));
    }
    await thinOldMonths(context, done.folder);
    await rebuildFrontPage(output, options.outFolder, stages.renderFrontPage);
    say(`nothing to do: ${done.folder} was made from the same inputs, settings and program`);
    return { kind: "nothing to do", ...done };
  });
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
  for (const file of files) await draft.write(file);
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
  const rejected = await draft.spool(REJECTED_FILE);
  // Started before the exports are read, so that they are ready when the lives are.
  const parts = stages.partThreads(options.threads - 1);
  try {
    return await withDrawing(context, (draw) =>
      withReadingMeans(context, given, (means, unreadBytes) =>
        computeMonth(stages, {
          fleet: given.fleet,
          fleetText: given.fleetText,
          source: countingSource(given.source, (bytes) => context.progress(bytes, unreadBytes, "bytes")),
          asOf: options.asOf,
          program: options.program.name,
          rejected: (text) => rejected.write(text),
          previous: (month) => previousRun(output, options.outFolder, month.month, warn),
          onStage: context.onStage,
          means,
          partThreads: parts.threads,
          draw,
        }),
      ),
    );
  } finally {
    await parts.close();
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
