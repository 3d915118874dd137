/** Files written under one folder, for the commands that make a fleet rather than a report. */
import { dirname, join } from "node:path";
import type { Effects } from "./effects.ts";
import { writeFailure } from "./output-guard.ts";

export interface FileToWrite {
  /** Relative to the folder, with "/". */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/**
 * Writes the files and says how many. Pieces of one path that comes again are written one after the other.
 * Throws PublishError where the disk refuses.
 */
export async function writeNewFolder(
  effects: Effects,
  folder: string,
  files: Iterable<FileToWrite> | AsyncIterable<FileToWrite>,
): Promise<number> {
  const written = new Set<string>();
  for await (const file of files) {
    const path = join(folder, file.path);
    try {
      if (written.has(path)) await effects.append(path, file.bytes);
      else {
        await effects.makeFolder(dirname(path));
        await effects.write(path, file.bytes);
      }
    } catch (error) {
      throw writeFailure("write", path, error);
    }
    written.add(path);
  }
  return written.size;
}
