/** `rotorwear replay`: what past months said, against what came after. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { EXIT } from "../problems.ts";
import type { AsOf } from "./arguments.ts";
import { asOfDay } from "./as-of.ts";
import { defaultThreads } from "./default-threads.ts";
import { superviseReport } from "./supervise-report.ts";
import type { Terminal } from "./terminal.ts";

interface ReplayCommandOptions {
  readonly months: number;
  readonly asOf?: AsOf;
  readonly out: string;
  readonly exports?: string;
  readonly threads?: number;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly log?: "text" | "json";
}

/** Replays the months, prints where the record is and what it comes to. */
export async function replayCommand(
  fleetFile: string,
  options: ReplayCommandOptions,
  terminal: Terminal,
  run: string,
): Promise<number> {
  const outFolder = options.out;
  const outcome = await superviseReport(
    {
      command: "replay",
      fleetFile,
      outFolder,
      exportsFolder: options.exports ?? null,
      asOf: asOfDay(options.asOf),
      months: options.months,
      threads: options.threads ?? defaultThreads(),
      run,
    },
    terminal,
    options.quiet !== true && options.log !== "json",
  );
  const folder = join(outFolder, outcome.folder);
  const summary = await readSummary(folder);
  if (options.json) {
    const { kind } = outcome;
    const result = {
      schema: "rotorwear/replay/1",
      outcome: kind,
      folder: outcome.folder,
      path: folder,
      summary,
    };
    terminal.result(JSON.stringify(result, null, 2));
  } else if (!options.quiet) terminal.result([join(folder, "record.html"), ...summary].join("\n"));
  return EXIT.done;
}

/** The sentences of a published record. */
async function readSummary(folder: string): Promise<readonly string[]> {
  const record: unknown = JSON.parse(await readFile(join(folder, "record.json"), "utf8"));
  const summary = typeof record === "object" && record !== null && "summary" in record ? record.summary : [];
  return Array.isArray(summary) ? summary.map(String) : [];
}
