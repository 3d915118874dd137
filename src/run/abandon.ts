/**
 * What an interrupted run leaves to do: its draft and lock go, the log is told. None of it is needed: the next run clears
 * what is left of a run that was killed outright.
 */
import { hostname } from "node:os";
import { join } from "node:path";
import { draftFolderName } from "./draft.ts";
import { type Effects, systemErrorCode } from "./effects.ts";
import { LOCK_FILE, parseLock } from "./lock.ts";
import { appendLog } from "./run-log.ts";

/** The run that was interrupted: its process has ended already. */
export interface AbandonedRun {
  readonly pid: number;
  readonly outFolder: string;
  readonly fleetFile: string;
  /** Name of the run in logs. */
  readonly run: string;
}

async function holdsLock(effects: Effects, { outFolder, pid }: AbandonedRun): Promise<boolean> {
  const path = join(outFolder, LOCK_FILE);
  if ((await effects.kindOf(path)) !== "file") return false;
  const holder = parseLock(Buffer.from(await effects.read(path)).toString("utf8"));
  return holder !== null && holder.pid === pid && holder.host === effects.host;
}

/** Clears up after an interrupted run. What the disk refuses is left to the next run. */
export async function abandonRun(effects: Effects, abandoned: AbandonedRun, signal: string): Promise<void> {
  const { outFolder, fleetFile, run, pid } = abandoned;
  try {
    if (await holdsLock(effects, abandoned)) {
      await effects.remove(join(outFolder, draftFolderName(pid)));
      await effects.remove(join(outFolder, LOCK_FILE));
    }
    if ((await effects.kindOf(outFolder)) !== "folder") return;
    const ended = effects.now().toISOString();
    const line = { run, ended, host: hostname(), pid, fleet_file: fleetFile, outcome: "interrupted" };
    await appendLog(effects, outFolder, { ...line, problem: signal });
  } catch (error) {
    if (systemErrorCode(error) === null) throw error;
  }
}
