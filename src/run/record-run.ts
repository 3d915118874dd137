/**
 * A replay that publishes: fleet file and exports in, `OUT/record-YYYY-MM/` out, by the steps of a monthly run. A rerun
 * with the same inputs, settings, program and months does nothing; any other becomes the next revision, so that a
 * record that somebody has seen stays as they saw it. The inputs are not kept: the months' own reports keep them.
 */
import { basename } from "node:path";
import { isoDate } from "../units.ts";
import { type Effects, sha256Of } from "./effects.ts";
import { rebuildFrontPage } from "./front-page.ts";
import { assertSameInputs } from "./inputs.ts";
import { MANIFEST_SCHEMA } from "./manifest.ts";
import { exportsFolderOf, type PublishingRun } from "./output-folder.ts";
import { recogniseRun } from "./recognise.ts";
import {
  inDraft,
  inLockedFolder,
  loggedRun,
  type RunInputs,
  type RunTools,
  type RunWatcher,
  readRunInputs,
} from "./run-steps.ts";
import type { ReplayStages } from "./stages.ts";

export interface RecordRunOptions extends PublishingRun {
  /** How many month-ends. */
  readonly months: number;
  /** How many threads replay them. */
  readonly threads: number;
}

export interface RecordOutcome {
  readonly kind: "published" | "nothing to do";
  /** Name of the record's folder in the output folder. */
  readonly folder: string;
}

/**
 * Replays past months and publishes their record.
 *
 * @throws UsageError, ExportError, PublishError; anything else is a bug
 */
export const recordRun = (
  options: RecordRunOptions,
  effects: Effects,
  stages: ReplayStages,
  watcher: RunWatcher,
): Promise<RecordOutcome> =>
  loggedRun(options, effects, watcher, async (tools) => {
    const { output, say, onStage } = tools;
    onStage("hashing exports");
    const given = await readRunInputs(options, stages, effects);
    return inLockedFolder(options, tools, async (lock): Promise<RecordOutcome> => {
      const done = await recogniseRun(output, options, sha256Of(given.fleetBytes), given.inputs, tools);
      if (done !== null) {
        await rebuildFrontPage(output, options.outFolder, stages.renderFrontPage);
        say(`nothing to do: ${done.folder} was made from the same inputs, settings and program`);
        return { kind: "nothing to do", folder: done.folder };
      }
      return inDraft(options.outFolder, tools, async (draft) => {
        const { month, asOf, files } = await computed(options, stages, tools, given);
        onStage("publishing");
        for (const file of files) await draft.write(file);
        const head = {
          schema: MANIFEST_SCHEMA,
          month,
          as_of: isoDate(asOf),
          as_of_asked: options.asOf === null ? null : isoDate(options.asOf),
          months_replayed: options.months,
          program: options.program.name,
          program_sha256: options.program.sha256,
          fleet_file: { file: basename(options.fleetFile), sha256: sha256Of(given.fleetBytes) },
          inputs: given.inputs.map(({ file, kind, sha256, bytes }) => ({ file, kind, sha256, bytes })),
          previous: null,
          raised: [],
        } as const;
        const folder = await draft.publish(
          { ...head, inputs: [...head.inputs], raised: [] },
          await draft.files(),
          lock,
          "record",
        );
        say(`published ${folder}`);
        await rebuildFrontPage(output, options.outFolder, stages.renderFrontPage);
        return { kind: "published", folder };
      });
    });
  });

async function computed(
  options: RecordRunOptions,
  stages: ReplayStages,
  { progress, onStage }: RunTools,
  { fleet, fleetText, source, inputs }: RunInputs,
) {
  onStage("replaying");
  const threads = stages.monthThreads(
    Math.min(options.threads, options.months) - 1,
    exportsFolderOf(options),
  );
  try {
    const record = await stages.replayMonths({
      ...{ fleet, fleetText, source },
      asOf: options.asOf,
      months: options.months,
      program: options.program.name,
      onMonth: (done, of) => progress(done, of, "months"),
      monthThreads: threads.threads,
    });
    assertSameInputs(inputs, record.inputs);
    onStage("pages");
    return { ...record, files: await stages.renderRecord(record) };
  } finally {
    await threads.close();
  }
}
