/** What a run is asked to do, and what its output folder must be before it begins. */
import { basename, dirname, join, resolve, sep } from "node:path";
import { PublishError, UsageError } from "../problems.ts";
import type { Day } from "../units.ts";
import type { Effects } from "./effects.ts";
import { INPUTS_FOLDER, type InputFile } from "./inputs.ts";
import type { Program } from "./program.ts";
import { LOG_FOLDER } from "./run-log.ts";

/** What every run that publishes is asked. */
export interface PublishingRun {
  readonly fleetFile: string;
  /** Where the fleet file's patterns resolve; null: its own folder. */
  readonly exportsFolder: string | null;
  readonly outFolder: string;
  readonly asOf: Day | null;
  readonly keepInputs: boolean;
  readonly program: Program;
  /** Name of this run in logs. */
  readonly run: string;
}

export interface MonthlyRunOptions extends PublishingRun {
  /** How many of the newest months keep their pages; null: all. */
  readonly keepMonths: number | null;
  /** Keeps what was read of each export for the next run, and uses what the last one kept. */
  readonly cache: boolean;
  /** How many threads may read at once. */
  readonly threads: number;
}

/** Where the fleet file's patterns resolve. */
export const exportsFolderOf = (options: Pick<PublishingRun, "exportsFolder" | "fleetFile">): string =>
  options.exportsFolder ?? dirname(options.fleetFile);

/** Refuses a pattern that takes reports for exports: each run would then read what the one before wrote. */
export function assertNotOwnOutput(options: PublishingRun, inputs: readonly InputFile[]): void {
  const exportsFolder = resolve(exportsFolderOf(options));
  const own = inputs.find(({ file }) =>
    join(exportsFolder, file).startsWith(resolve(options.outFolder) + sep),
  );
  if (own === undefined) return;
  throw new UsageError(
    "E-FLEET",
    `${basename(options.fleetFile)} exports.${own.kind}.files: expected exports, but a pattern matches ${own.file} in the ` +
      "output folder; narrow the pattern, or name another folder with --out",
  );
}

/** Makes the output folder; refuses one whose own folders are links, since nothing outside it may be written. */
export async function prepareOutput(output: Effects, options: PublishingRun): Promise<void> {
  const { outFolder } = options;
  await output.makeFolder(outFolder);
  for (const name of options.keepInputs ? [INPUTS_FOLDER, LOG_FOLDER] : [LOG_FOLDER]) {
    const kind = await output.kindOf(join(outFolder, name));
    if (kind === "none") await output.makeFolder(join(outFolder, name));
    if (kind === "folder" || kind === "none") continue;
    throw new PublishError(
      "E-WRITE",
      `${join(outFolder, name)} is ${kind === "other" ? "no folder" : `a ${kind}, not a folder`}; move it away, or name another folder with --out`,
    );
  }
}
