/** A small monthly run on disk: two real exports and a fleet file, and a pipeline quick enough to run hundreds of times. */
import { createHash } from "node:crypto";
import { mkdir, mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { readTexts } from "../../src/ingest/read-texts.ts";
import type { ExportSource } from "../../src/ingest/source.ts";
import type { Month } from "../../src/interval/month-result.ts";
import type { MonthOptions } from "../../src/pipeline.ts";
import { type Effects, fileEffects } from "../../src/run/effects.ts";
import type { PublishedMonth } from "../../src/run/front-page.ts";
import { monthlyRun } from "../../src/run/monthly-run.ts";
import type { MonthlyRunOptions } from "../../src/run/output-folder.ts";
import type { Stages } from "../../src/run/stages.ts";
import { dayFromIso, isoMonth } from "../../src/units.ts";
import { makeMonth } from "../support/make-month.ts";

const FLEET = `fleet: Test fleet
exports:
  wear:
    files: exports/wear-*.csv
    unit: mm
    clock: since new
    columns: { component: Serial, date: Date, hours: Hours, wear: Wear }
parts:
  - part: grip bearing
    part_numbers: [GB-1]
    replace_at: 0.50 mm
tasks:
  - { task: wear check, part: grip bearing, basis: programme, reference: R1, interval: 600 h }
acceptable:
  unsafe_before_seen: 0.001
  over_limit_per_inspection: 0.10
  functional_failures_per_1000h: 0.01
  detection: { chance: 0.90, reference: none }
  confidence: 0.95
interval_steps: { step: 50 h, largest_change: 50% }
`;

export interface Place {
  readonly root: string;
  readonly fleetFile: string;
  readonly outFolder: string;
}

/** A fresh folder with a fleet file and two exports. */
export async function makePlace(): Promise<Place> {
  const root = await mkdtemp(join(tmpdir(), "rotorwear-run-"));
  await mkdir(join(root, "exports"));
  await writeFile(join(root, "fleet.yaml"), FLEET);
  await writeExport({ root }, "2026-01", "Serial,Date,Hours,Wear\nA1,2026-01-10,600,0.10\n");
  await writeExport({ root }, "2026-02", "Serial,Date,Hours,Wear\nA1,2026-02-10,640,0.11\nA2,bad,1,1\n");
  return { root, fleetFile: join(root, "fleet.yaml"), outFolder: join(root, "reports") };
}

export const writeExport = (place: { root: string }, month: string, text: string): Promise<void> =>
  writeFile(join(place.root, "exports", `wear-${month}.csv`), text);

async function textOf(source: ExportSource, file: string): Promise<string> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of source.open(file)) chunks.push(chunk);
  return Buffer.concat(chunks).toString("utf8");
}

/** Stands for the pipeline: reads every export, and makes a month that depends on each byte of them. */
async function runSmallMonth(options: MonthOptions): Promise<Month> {
  const patterns = options.fleet.exports.wear?.files ?? [];
  // Their texts come by way of what earlier runs kept, as in a real run.
  if (options.fleet.exports.wear !== undefined && options.means !== undefined)
    await readTexts(options.source, options.fleet.exports.wear, options.means, () => {});
  const inputs: Month["inputs"][number][] = [];
  let latest = 0;
  for (const file of await options.source.list(patterns)) {
    const text = await textOf(options.source, file);
    const rows = text.trimEnd().split("\n").slice(1);
    for (const [at, row] of rows.entries()) {
      const day = dayFromIso(row.split(",")[1] ?? "");
      if (day !== null) latest = Math.max(latest, day);
      else {
        options.onProblem({
          code: "E-DATE",
          file,
          line: at + 2,
          column: "Date",
          expected: "a date",
          found: row,
          hint: null,
        });
      }
    }
    const sha256 = createHash("sha256").update(text).digest("hex");
    const template = makeMonth().inputs[0]!;
    inputs.push({ ...template, file, kind: "wear", sha256, bytes: text.length, read: rows.length });
  }
  const asOf = options.asOf ?? latest;
  const settingsSha256 = createHash("sha256").update(options.fleetText).digest("hex");
  return { ...makeMonth(), inputs, asOf, month: isoMonth(asOf), settingsSha256, program: options.program };
}

/** A run.json with what the next month's `changes` reads of it. */
function runJson(month: Month): string {
  return JSON.stringify({
    schema: "rotorwear/run/1",
    as_of: month.month,
    program: month.program,
    settings_sha256: month.settingsSha256,
    inputs: month.inputs.map(({ file, kind, sha256, read, accepted }) => ({
      file,
      kind,
      sha256,
      read,
      accepted,
    })),
    recommendations: month.recommendations.map((one) => ({
      task: one.task,
      ...one.group,
      present_interval_h: one.presentIntervalH,
      recommendation: one.recommendation,
      recommended_interval_h: one.recommendedIntervalH,
      row: one.row,
      governing: one.governing,
      evidence: one.evidence.map(({ rule, outcome }) => ({ rule, outcome })),
    })),
    alerts: month.trends
      .filter((trend) => trend.alert)
      .map(({ part, environment }) => ({ part, environment })),
    watch_list: month.watchList.map((line) => ({ ...line.group, serial: line.serial })),
    changes: month.changes,
  });
}

const frontPage = (months: readonly PublishedMonth[]): string =>
  `<ul>${months.map((month) => `<li>${month.folder}: ${month.summary.join(" | ")}</li>`).join("")}</ul>\n`;

export const smallStages: Stages = {
  readFleet,
  exportFolder,
  readingThreads: () => {
    throw new Error("these exports are too small for threads");
  },
  partThreads: () => ({ threads: [], close: async () => {} }),
  drawingThreads: () => {
    throw new Error("this month has no charts");
  },
  runMonth: runSmallMonth,
  renderMonth: async (month) => [
    { path: "index.html", text: `<p>${month.month} ${JSON.stringify(month.changes)}</p>\n` },
    { path: "run.json", text: runJson(month) },
    { path: "digest.txt", text: `${month.month}\n${month.inputs.length} exports\n` },
    { path: "data/lives.csv", text: "component\n" },
  ],
  renderFrontPage: frontPage,
};

export const program = { name: "rotorwear 0.0.0", sha256: "a".repeat(64) };

/** Runs the small month; messages go to the array given. */
export function runAt(
  place: Place,
  options: Partial<MonthlyRunOptions> = {},
  effects: Effects = fileEffects,
  messages: string[] = [],
  stages: Stages = smallStages,
): ReturnType<typeof monthlyRun> {
  const { fleetFile, outFolder } = place;
  const defaults = {
    fleetFile,
    outFolder,
    exportsFolder: null,
    asOf: null,
    keepInputs: true,
    keepMonths: null,
    cache: true,
    threads: 1,
    program,
    run: "test",
  };
  return monthlyRun({ ...defaults, ...options }, effects, stages, {
    say: (message) => messages.push(message),
    progress() {},
  });
}

/** Every file under a folder with its text, by path. */
export async function contentsOf(folder: string): Promise<Map<string, string>> {
  const contents = new Map<string, string>();
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  for (const entry of entries) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    contents.set(path.slice(folder.length + 1), await readFile(path, "utf8"));
  }
  return contents;
}
