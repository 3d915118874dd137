/**
 * Old months grow thin: their pages go, their results stay. What the next months need of them (run.json), what proves what
 * they were made from (manifest.json) and the digest are never removed.
 */
import { join } from "node:path";
import type { Effects } from "./effects.ts";
import { RUN_FILE } from "./history.ts";
import { filesUnder } from "./manifest.ts";
import { listMonthFolders } from "./month-folders.ts";

// filesUnder leaves the manifest out by itself.
export const KEPT_FILES: ReadonlySet<string> = new Set([RUN_FILE, "digest.txt"]);

export interface Thinning {
  /** Name of the month's folder. */
  readonly folder: string;
  /** Files to remove, relative to it. */
  readonly files: readonly string[];
}

/** What would be removed so that only the newest `keepMonths` months have pages. Revisions of a month count as one. */
export async function planThinning(
  effects: Effects,
  outFolder: string,
  keepMonths: number,
): Promise<Thinning[]> {
  const folders = await listMonthFolders(effects, outFolder);
  const months = [...new Set(folders.map((folder) => folder.month))];
  const old = new Set(months.slice(0, Math.max(0, months.length - keepMonths)));
  const plan: Thinning[] = [];
  for (const { folder, month } of folders) {
    if (!old.has(month)) continue;
    const files = (await filesUnder(effects, join(outFolder, folder))).filter(
      (file) => !KEPT_FILES.has(file),
    );
    if (files.length > 0) plan.push({ folder, files });
  }
  return plan;
}

/** Removes what a plan says. Broken off half-way, the next run's plan holds the rest. */
export async function thinMonths(
  effects: Effects,
  outFolder: string,
  plan: readonly Thinning[],
): Promise<void> {
  for (const { folder, files } of plan) {
    for (const file of files) await effects.remove(join(outFolder, folder, file));
  }
}
