/**
 * The seam between the program and the world: files, clock, process. Everything that writes goes through here, so that
 * tests can record, break or kill every single step. The clock serves the log and `last-month-end` only: no result may
 * depend on it.
 */
import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import * as fs from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { processIdentity } from "./process-identity.ts";

export type PathKind = "file" | "folder" | "link" | "other" | "none";

/** A file being written as text comes in. */
export interface Spool {
  /** Takes the text at once and writes in the background; a failure surfaces in `close`. */
  write(text: string): void;
  /** Waits until all of it is on disk. */
  close(): Promise<void>;
}

export interface Digest {
  readonly sha256: string;
  readonly bytes: number;
}

export interface Effects {
  readonly pid: number;
  readonly host: string;
  now(): Date;
  /** What tells this process from a later one with the same number; null where the system can't say. */
  identityOf(pid: number): string | null;
  isAlive(pid: number): boolean;
  pause(milliseconds: number): Promise<void>;
  kindOf(path: string): Promise<PathKind>;
  /** Names in a folder, sorted by code unit; none where there is no such folder. */
  list(folder: string): Promise<string[]>;
  read(path: string): Promise<Uint8Array>;
  digest(path: string): Promise<Digest>;
  makeFolder(path: string): Promise<void>;
  /** Writes a file and waits until it is on disk. */
  write(path: string, content: string | Uint8Array): Promise<void>;
  /** Writes a file that must not be there yet; false where it is. */
  createNew(path: string, content: string): Promise<boolean>;
  append(path: string, text: string | Uint8Array): Promise<void>;
  /** Writes a file from a stream, tells what was written, and waits until it is on disk. */
  writeStream(path: string, chunks: AsyncIterable<Uint8Array>): Promise<Digest>;
  spool(path: string): Promise<Spool>;
  rename(from: string, to: string): Promise<void>;
  /** Removes a file or a folder with all that is in it; nothing where there is none. */
  remove(path: string): Promise<void>;
  /** Waits until a folder's entries are on disk, where the system can do that. */
  syncFolder(path: string): Promise<void>;
}

/** The error code of a failed system call, or null where it is another kind of error. */
export const systemErrorCode = (error: unknown): string | null =>
  error instanceof Error && "code" in error && typeof error.code === "string" ? error.code : null;

/** Order by code unit: the same in every locale. */
export const byCodeUnit = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

async function kindOf(path: string): Promise<PathKind> {
  try {
    const stat = await fs.lstat(path);
    if (stat.isFile()) return "file";
    if (stat.isDirectory()) return "folder";
    return stat.isSymbolicLink() ? "link" : "other";
  } catch (error) {
    const code = systemErrorCode(error);
    if (code === "ENOENT" || code === "ENOTDIR") return "none";
    throw error;
  }
}

async function list(folder: string): Promise<string[]> {
  try {
    return (await fs.readdir(folder)).sort(byCodeUnit);
  } catch (error) {
    if (systemErrorCode(error) === "ENOENT") return [];
    throw error;
  }
}

/** SHA-256 and size of a stream. */
export async function digestOf(chunks: AsyncIterable<Uint8Array>): Promise<Digest> {
  const hash = createHash("sha256");
  let bytes = 0;
  for await (const chunk of chunks) {
    hash.update(chunk);
    bytes += chunk.length;
  }
  return { sha256: hash.digest("hex"), bytes };
}

/** SHA-256 of what is in memory. */
export const sha256Of = (content: string | Uint8Array): string =>
  createHash("sha256").update(content).digest("hex");

async function writeWith(path: string, flag: "w" | "wx" | "a", content: string | Uint8Array): Promise<void> {
  const file = await fs.open(path, flag);
  try {
    await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function createNew(path: string, content: string): Promise<boolean> {
  try {
    await writeWith(path, "wx", content);
    return true;
  } catch (error) {
    if (systemErrorCode(error) === "EEXIST") return false;
    // A full disk makes the name and not the content; an unfinished lock would only alarm the next run.
    if (systemErrorCode(error) === "ENOSPC" || systemErrorCode(error) === "EDQUOT")
      await fs.rm(path, { force: true });
    throw error;
  }
}

async function writeStream(path: string, chunks: AsyncIterable<Uint8Array>): Promise<Digest> {
  const hash = createHash("sha256");
  let bytes = 0;
  const file = await fs.open(path, "w");
  try {
    for await (const chunk of chunks) {
      hash.update(chunk);
      bytes += chunk.length;
      await file.appendFile(chunk);
    }
    await file.sync();
  } finally {
    await file.close();
  }
  return { sha256: hash.digest("hex"), bytes };
}

const SPOOL_CHUNK_CHARACTERS = 1 << 16;

/** A spool that gathers text into chunks and writes them one after the other. */
async function spool(path: string): Promise<Spool> {
  const file = await fs.open(path, "w");
  let waiting: string[] = [];
  let waitingCharacters = 0;
  let failure: unknown = null;
  let tail: Promise<void> = Promise.resolve();
  const flush = () => {
    const text = waiting.join("");
    waiting = [];
    waitingCharacters = 0;
    tail = tail
      .then(() => (failure === null ? file.appendFile(text) : undefined))
      .catch((error) => {
        failure ??= error;
      });
  };
  return {
    write(text) {
      waiting.push(text);
      waitingCharacters += text.length;
      if (waitingCharacters >= SPOOL_CHUNK_CHARACTERS) flush();
    },
    async close() {
      flush();
      await tail;
      try {
        if (failure !== null) throw failure;
        await file.sync();
      } finally {
        await file.close();
      }
    },
  };
}

async function syncFolder(path: string): Promise<void> {
  // Some systems and file systems can't open or sync a folder; the rename is then as durable as they make it.
  try {
    const folder = await fs.open(path, "r");
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  } catch (error) {
    const code = systemErrorCode(error);
    if (!["EISDIR", "EPERM", "EINVAL", "ENOTSUP", "EBADF", "EACCES"].includes(code ?? "")) throw error;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it lives, and belongs to somebody else.
    return systemErrorCode(error) === "EPERM";
  }
}

/** Few reads, and a buffer that costs nothing beside the rest. */
const READ_BYTES = 1 << 20;

/** The real world. */
export const fileEffects: Effects = {
  pid: process.pid,
  host: hostname(),
  now: () => new Date(Date.now()),
  identityOf: processIdentity,
  isAlive,
  pause: (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds)),
  kindOf,
  list,
  read: (path) => fs.readFile(path),
  digest: (path) => digestOf(createReadStream(path, { highWaterMark: READ_BYTES })),
  makeFolder: async (path) => {
    await fs.mkdir(path, { recursive: true });
  },
  write: (path, content) => writeWith(path, "w", content),
  createNew,
  append: (path, text) => writeWith(path, "a", text),
  writeStream,
  spool,
  rename: fs.rename,
  remove: (path) => fs.rm(path, { recursive: true, force: true }),
  syncFolder,
};

/** A small file replaced as a whole: written beside, then renamed over. */
export async function replaceFile(effects: Effects, folder: string, name: string, text: string) {
  const beside = join(folder, `.tmp-${effects.pid}-${name}`);
  await effects.write(beside, text);
  await effects.rename(beside, join(folder, name));
}
