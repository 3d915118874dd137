/**
 * Kills the built program (SIGKILL) at seeded random moments of a run, again and again in one output folder, and looks
 * after each kill at what a reader would find there.
 */
import type { ChildProcess } from "node:child_process";
import { appendFile, readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { seededRandom } from "../../src/math/random.ts";
import { fileEffects } from "../../src/run/effects.ts";
import { damageOf, readManifest } from "../../src/run/manifest.ts";
import { listMonthFolders } from "../../src/run/month-folders.ts";
import { runCli } from "./run-cli.ts";

export interface KillTally {
  kills: number;
  /** Runs that had ended before the moment came. */
  completed: number;
  /** Kills that came while the month was being written aside. */
  whileWriting: number;
  /** Kills after which the new month stood there whole. */
  afterPublishing: number;
  /** What was wrong with published months; must stay empty. */
  readonly damage: string[];
}

async function publishedDamage(outFolder: string): Promise<{ months: number; damage: string[] }> {
  const damage: string[] = [];
  const folders = await listMonthFolders(fileEffects, outFolder);
  for (const { folder } of folders) {
    const reading = await readManifest(fileEffects, join(outFolder, folder));
    if (reading.kind !== "read") damage.push(`${folder}: no manifest`);
    else damage.push(...(await damageOf(fileEffects, join(outFolder, folder), reading.manifest)));
  }
  return { months: folders.length, damage };
}

async function draftFiles(outFolder: string): Promise<number | null> {
  const draft = (await fileEffects.list(outFolder)).find((name) => /^\.tmp-\d+$/.test(name));
  if (draft === undefined) return null;
  return (await readdir(join(outFolder, draft)).catch(() => [])).length;
}

async function filesOfLatest(outFolder: string): Promise<number> {
  const latest = (await readFile(join(outFolder, "latest"), "utf8")).trim();
  return (await readdir(join(outFolder, latest))).length;
}

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

/** Kills when the draft holds `files` files. The draft may come and go between two looks; then the run completes. */
async function killWhileWriting(child: ChildProcess, outFolder: string, files: number): Promise<void> {
  while (child.exitCode === null && child.signalCode === null) {
    const written = await draftFiles(outFolder);
    if (written !== null && written >= files) child.kill("SIGKILL");
    else await pause(1);
  }
}

/** One run that is killed at its moment, if it lasts so long. True where it was killed. */
async function killedRun(
  args: readonly string[],
  outFolder: string,
  moment: { afterMs: number } | { files: number },
): Promise<boolean> {
  let watching: Promise<void> = Promise.resolve();
  const result = await runCli(args, {
    started: (child) => {
      if ("files" in moment) watching = killWhileWriting(child, outFolder, moment.files);
      else setTimeout(() => child.kill("SIGKILL"), moment.afterMs).unref();
    },
  });
  await watching;
  if (result.signal === "SIGKILL") return true;
  if (result.code !== 0) throw new Error(`a run ended with ${result.code}: ${result.stderr}`);
  return false;
}

/**
 * @param fleetFolder  a small fleet; one of its exports grows by a blank line before each run, so that each has something to do
 * @param usualMs      how long an undisturbed run takes
 */
export async function killRuns(
  fleetFolder: string,
  outFolder: string,
  kills: number,
  usualMs: number,
  seed: number,
): Promise<KillTally> {
  const random = seededRandom(seed);
  let filesOfAMonth = 12;
  const tally: KillTally = { kills: 0, completed: 0, whileWriting: 0, afterPublishing: 0, damage: [] };
  const [anExport] = (await readdir(join(fleetFolder, "exports"))).sort();
  const args = ["report", join(fleetFolder, "fleet.yaml"), "--out", outFolder, "--no-keep-inputs"];
  for (let run = 0; tally.kills < kills && run < 3 * kills; run++) {
    await appendFile(join(fleetFolder, "exports", anExport!), "\n");
    const before = (await publishedDamage(outFolder)).months;
    const moment =
      run % 2 === 0
        ? { files: random.below(filesOfAMonth + 2) }
        : { afterMs: random.uniform() * 1.1 * usualMs };
    if (!(await killedRun(args, outFolder, moment))) {
      tally.completed++;
      filesOfAMonth = await filesOfLatest(outFolder);
      continue;
    }
    tally.kills++;
    const after = await publishedDamage(outFolder);
    if ((await draftFiles(outFolder)) !== null) tally.whileWriting++;
    if (after.months > before) tally.afterPublishing++;
    tally.damage.push(...after.damage);
  }
  return tally;
}
