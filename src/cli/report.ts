/** `rotorwear report`: the monthly run. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { EXIT, UsageError } from "../problems.ts";
import { fileEffects } from "../run/effects.ts";
import { summaryLines } from "../run/front-page.ts";
import { guardedOutput } from "../run/output-guard.ts";
import type { Raised } from "../run/raised.ts";
import { planThinning } from "../run/retention.ts";
import type { AsOf } from "./arguments.ts";
import { asOfDay } from "./as-of.ts";
import { defaultThreads } from "./default-threads.ts";
import type { ReportJob } from "./report-messages.ts";
import { printPdf } from "./report-pdf.ts";
import { superviseReport } from "./supervise-report.ts";
import type { Terminal } from "./terminal.ts";

interface ReportCommandOptions {
  readonly asOf?: AsOf;
  readonly out: string;
  readonly exports?: string;
  readonly keepInputs: boolean;
  readonly cache: boolean;
  readonly threads?: number;
  readonly keep?: number;
  readonly dryRun?: boolean;
  readonly pdf?: boolean;
  readonly failOn?: readonly Raised[];
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly log?: "text" | "json";
}

/** Runs the month, prints where it is and the lines that matter most. */
export async function reportCommand(
  fleetFile: string,
  options: ReportCommandOptions,
  terminal: Terminal,
  run: string,
): Promise<number> {
  const outFolder = options.out;
  if (options.dryRun) return showThinning(outFolder, options.keep, terminal);
  const asOf = asOfDay(options.asOf);
  const job: ReportJob = {
    command: "report",
    fleetFile,
    outFolder,
    exportsFolder: options.exports ?? null,
    asOf,
    keepInputs: options.keepInputs,
    keepMonths: options.keep ?? null,
    cache: options.cache,
    threads: options.threads ?? defaultThreads(),
    run,
  };
  const outcome = await superviseReport(job, terminal, options.quiet !== true && options.log !== "json");
  if (options.pdf) await printPdf(outFolder, outcome.folder, terminal);
  const folder = join(outFolder, outcome.folder);
  const summary = summaryLines(await readFile(join(folder, "digest.txt"), "utf8"));
  if (options.json) {
    const { kind, raised } = outcome;
    terminal.result(
      JSON.stringify(
        {
          schema: "rotorwear/report/1",
          outcome: kind,
          folder: outcome.folder,
          path: folder,
          raised,
          summary,
        },
        null,
        2,
      ),
    );
  } else if (!options.quiet) terminal.result([join(folder, "index.html"), ...summary].join("\n"));
  const failing = (options.failOn ?? []).filter((one) => outcome.raised.includes(one));
  if (failing.length === 0) return EXIT.done;
  terminal.note("warning", `this month raises ${failing.join(" and ")} (--fail-on)`);
  return EXIT.failOn;
}

/** Says what --keep would remove; runs and removes nothing. */
async function showThinning(
  outFolder: string,
  keep: number | undefined,
  terminal: Terminal,
): Promise<number> {
  if (keep === undefined)
    throw new UsageError("E-USAGE", "--dry-run shows what --keep would remove; give --keep too");
  const output = guardedOutput(fileEffects, (message) => terminal.note("warning", message));
  const plan = await planThinning(output, outFolder, keep);
  for (const { folder, files } of plan) terminal.result(`${join(outFolder, folder)}: ${files.join(", ")}`);
  terminal.note(
    "info",
    plan.length === 0 ? "nothing would be removed" : "nothing was removed; every run.json would stay",
  );
  return EXIT.done;
}
