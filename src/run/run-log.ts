/** `OUT/log/runs.jsonl`: one JSON object a line for every run, for whoever asks what happened at 03:00. */
import { join } from "node:path";
import type { Effects } from "./effects.ts";

export const LOG_FOLDER = "log";
export const LOG_FILE = "runs.jsonl";

export interface RunLogLine {
  readonly run: string;
  readonly started: string;
  readonly ended: string;
  readonly host: string;
  readonly pid: number;
  readonly node: string;
  readonly program: string;
  readonly fleet_file: string;
  readonly outcome: "published" | "nothing to do" | "failed";
  /** Folder published, or recognised as already published; null where the run failed. */
  readonly month: string | null;
  readonly problem: string | null;
  readonly messages: readonly string[];
}

/** Adds a run to the log. */
export async function logRun(effects: Effects, outFolder: string, line: RunLogLine): Promise<void> {
  const folder = join(outFolder, LOG_FOLDER);
  await effects.makeFolder(folder);
  await effects.append(join(folder, LOG_FILE), `${JSON.stringify(line)}\n`);
}
