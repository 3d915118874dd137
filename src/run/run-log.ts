/** `OUT/log/runs.jsonl`: one JSON object a line for every run, for whoever asks what happened at 03:00. */
import { join } from "node:path";
import { PublishError } from "../problems.ts";
import type { Effects } from "./effects.ts";
import type { StageSeconds } from "./stage-clock.ts";

export const LOG_FOLDER = "log";
const LOG_FILE = "runs.jsonl";

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
  /** Where the time went, by stage. */
  readonly stage_seconds: StageSeconds;
}

/** Adds a run to the log. */
export const logRun = (effects: Effects, outFolder: string, line: RunLogLine): Promise<void> =>
  appendLog(effects, outFolder, line);

/**
 * Adds a line to the log. Throws PublishError where the log or its folder is a link or anything else that could lead out
 * of the output folder, or never answer.
 */
export async function appendLog(effects: Effects, outFolder: string, line: object): Promise<void> {
  const folder = join(outFolder, LOG_FOLDER);
  if ((await effects.kindOf(folder)) === "none") await effects.makeFolder(folder);
  await assertKind(effects, folder, "folder");
  const path = join(folder, LOG_FILE);
  if ((await effects.kindOf(path)) !== "none") await assertKind(effects, path, "file");
  await effects.append(path, `${JSON.stringify(line)}\n`);
}

async function assertKind(effects: Effects, path: string, wanted: "file" | "folder"): Promise<void> {
  const kind = await effects.kindOf(path);
  if (kind === wanted) return;
  const found = kind === "other" ? "neither file nor folder" : `a ${kind}`;
  throw new PublishError(
    "E-WRITE",
    `${path} is ${found}, not a ${wanted}; move it away; nothing was written to it`,
  );
}
