/**
 * The published months of an output folder, from the names of its folders: `2026-09`, then `2026-09.2`, `2026-09.3`, …;
 * records of past months beside them, as `record-2026-09`, `record-2026-09.2`, …
 */
import { join } from "node:path";
import { byCodeUnit, type Effects } from "./effects.ts";

export interface MonthFolder {
  /** Name of the folder. */
  readonly folder: string;
  /** YYYY-MM */
  readonly month: string;
  /** 1 for the first publication of a month. */
  readonly revision: number;
}

/** What is published of a month: its report, or a record of the months up to it. */
export type Publication = "report" | "record";

const PREFIX: Readonly<Record<Publication, string>> = { report: "", record: "record-" };

const NAME = /^(\d{4}-(?:0[1-9]|1[0-2]))(?:\.([2-9]|[1-9]\d+))?$/;

/** The month and revision that a folder's name says, or null where it is no folder of such a publication. */
export function parseMonthFolder(folder: string, of: Publication = "report"): MonthFolder | null {
  const prefix = PREFIX[of];
  const match = folder.startsWith(prefix) ? NAME.exec(folder.slice(prefix.length)) : null;
  if (match?.[1] === undefined) return null;
  return { folder, month: match[1], revision: match[2] === undefined ? 1 : Number(match[2]) };
}

/** Name of a month's folder. */
export const monthFolderName = (month: string, revision: number, of: Publication = "report"): string =>
  `${PREFIX[of]}${month}${revision === 1 ? "" : `.${revision}`}`;

/** Oldest month first, revisions in order. */
const inOrder = (a: MonthFolder, b: MonthFolder): number =>
  byCodeUnit(a.month, b.month) || a.revision - b.revision;

/** Every month's folder of a publication, oldest first. */
export async function listMonthFolders(
  effects: Effects,
  outFolder: string,
  of: Publication = "report",
): Promise<MonthFolder[]> {
  const found: MonthFolder[] = [];
  for (const name of await effects.list(outFolder)) {
    const month = parseMonthFolder(name, of);
    if (month !== null && (await effects.kindOf(join(outFolder, name))) === "folder") found.push(month);
  }
  return found.sort(inOrder);
}

/** The newest revision of each month, oldest month first. */
export function newestRevisions(folders: readonly MonthFolder[]): MonthFolder[] {
  const newest = new Map<string, MonthFolder>();
  for (const folder of [...folders].sort(inOrder)) newest.set(folder.month, folder);
  return [...newest.values()];
}
