/**
 * What an interrupted run does in its last moment: its draft and lock go, the log is told. All of it at once and without
 * waiting, and none of it needed: the next run clears what is left of a run that was killed outright.
 */
import { appendFileSync, existsSync, readFileSync, rmSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { draftFolderName } from "./draft.ts";
import { systemErrorCode } from "./effects.ts";
import { LOCK_FILE, parseLock } from "./lock.ts";
import { LOG_FILE, LOG_FOLDER } from "./run-log.ts";

function holdsLock(outFolder: string): boolean {
  const path = join(outFolder, LOCK_FILE);
  if (!existsSync(path)) return false;
  const holder = parseLock(readFileSync(path, "utf8"));
  return holder !== null && holder.pid === process.pid && holder.host === hostname();
}

/** Clears up after this process's run in an output folder. */
export function abandonRun(outFolder: string, fleetFile: string, run: string, signal: string): void {
  try {
    if (holdsLock(outFolder)) {
      rmSync(join(outFolder, draftFolderName(process.pid)), { recursive: true, force: true });
      rmSync(join(outFolder, LOCK_FILE), { force: true });
    }
    if (!existsSync(join(outFolder, LOG_FOLDER))) return;
    const ended = new Date(Date.now()).toISOString();
    const line = {
      run,
      ended,
      host: hostname(),
      pid: process.pid,
      fleet_file: fleetFile,
      outcome: "interrupted",
    };
    appendFileSync(
      join(outFolder, LOG_FOLDER, LOG_FILE),
      `${JSON.stringify({ ...line, problem: signal })}\n`,
    );
  } catch (error) {
    // Only what the disk refuses may be passed over here; the process ends either way.
    if (systemErrorCode(error) === null) throw error;
  }
}
