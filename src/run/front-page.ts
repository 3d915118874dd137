/**
 * `OUT/index.html` and `OUT/latest`: rebuilt from the folders of months and records at the end of every run, so that a run killed
 * between publishing a month and switching to it is made good by the next.
 */
import { join } from "node:path";
import { type Effects, replaceFile } from "./effects.ts";
import { MANIFEST_FILE } from "./manifest.ts";
import { listMonthFolders, type MonthFolder, newestRevisions, type Publication } from "./month-folders.ts";

export const LATEST_FILE = "latest";
export const FRONT_PAGE_FILE = "index.html";

/** One publication as the front page lists it. */
export interface PublishedMonth extends MonthFolder {
  /** The digest's first lines; none where the month's own digest can't be read. */
  readonly summary: readonly string[];
  /** False once its pages were removed to save space. */
  readonly hasPages: boolean;
}

/** Months and records of past months, each newest first. */
export type RenderFrontPage = (
  months: readonly PublishedMonth[],
  records: readonly MonthFolder[],
) => string | Promise<string>;

const SUMMARY_LINES = 3;

async function describe(effects: Effects, outFolder: string, month: MonthFolder): Promise<PublishedMonth> {
  const folder = join(outFolder, month.folder);
  const digest = join(folder, "digest.txt");
  const text =
    (await effects.kindOf(digest)) === "file" ? Buffer.from(await effects.read(digest)).toString("utf8") : "";
  return {
    ...month,
    summary: summaryLines(text),
    hasPages: (await effects.kindOf(join(folder, "index.html"))) === "file",
  };
}

/** The lines of a digest that matter most: its first ones that aren't empty. */
export const summaryLines = (digest: string): string[] =>
  digest
    .split("\n")
    .filter((line) => line.trim() !== "")
    .slice(0, SUMMARY_LINES);

async function unlessSame(effects: Effects, outFolder: string, name: string, text: string): Promise<void> {
  const path = join(outFolder, name);
  if ((await effects.kindOf(path)) === "file") {
    if (Buffer.from(await effects.read(path)).toString("utf8") === text) return;
  }
  await replaceFile(effects, outFolder, name, text);
}

/** Folders that were published whole, oldest first. */
async function withManifest(effects: Effects, outFolder: string, of: Publication): Promise<MonthFolder[]> {
  const published: MonthFolder[] = [];
  for (const month of await listMonthFolders(effects, outFolder, of)) {
    if ((await effects.kindOf(join(outFolder, month.folder, MANIFEST_FILE))) === "file")
      published.push(month);
  }
  return published;
}

/**
 * Makes the front page and `latest` say what the folders say; writes nothing where they do already. Gives the folder
 * that `latest` names, or null where no month is published.
 */
export async function rebuildFrontPage(
  effects: Effects,
  outFolder: string,
  render: RenderFrontPage,
): Promise<string | null> {
  const published = await withManifest(effects, outFolder, "report");
  const latest = newestRevisions(published).at(-1);
  const records = newestRevisions(await withManifest(effects, outFolder, "record")).reverse();
  if (latest === undefined && records.length === 0) return null;
  const months = await Promise.all(published.map((month) => describe(effects, outFolder, month)));
  await unlessSame(effects, outFolder, FRONT_PAGE_FILE, await render(months.reverse(), records));
  if (latest === undefined) return null;
  await unlessSame(effects, outFolder, LATEST_FILE, `${latest.folder}\n`);
  return latest.folder;
}
