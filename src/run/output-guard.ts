/**
 * The output folder seen through two guards: a system call that fails becomes a PublishError that says what to do, and
 * one that hangs (a network share that stalls) is first reported, then given up.
 */
import { PublishError, RotorwearError } from "../problems.ts";
import { type Effects, systemErrorCode } from "./effects.ts";

export interface StallLimits {
  readonly warnAfterMs: number;
  readonly giveUpAfterMs: number;
}

export const STALL_LIMITS: StallLimits = { warnAfterMs: 30_000, giveUpAfterMs: 900_000 };

const ADVICE: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full; free space and run again",
  EDQUOT: "the disk quota is used up; free space and run again",
  EACCES: "no permission; give this user the right to write there, or name another folder with --out",
  EPERM: "not permitted; give this user the right to write there, or name another folder with --out",
  EROFS: "the file system is read-only; name another folder with --out",
  EIO: "the disk or share reported an input/output error; check it, then run again",
  ENOTDIR: "a file stands where a folder is needed; move it, or name another folder with --out",
  EMFILE: "too many files are open on this machine; run again later",
};

/** A failed system call in the output folder as a person should read it. */
export function writeFailure(doing: string, path: string, error: unknown): Error {
  if (error instanceof RotorwearError) return error;
  const code = systemErrorCode(error);
  if (code === null) return error instanceof Error ? error : new Error(String(error));
  const advice = ADVICE[code] ?? "check the folder and the disk, then run again";
  return new PublishError(
    "E-WRITE",
    `can't ${doing} ${path}: ${code} (${advice}); the last publication is untouched`,
  );
}

function watched<T>(
  doing: string,
  path: string,
  onStall: (message: string) => void,
  onGivenUp: () => void,
  limits: StallLimits,
  action: () => Promise<T>,
): Promise<T> {
  return new Promise<T>((resolve, reject) => {
    const warn = setTimeout(() => {
      onStall(
        `still waiting to ${doing} ${path} after ${limits.warnAfterMs / 1000} s: does the disk or share stall?`,
      );
    }, limits.warnAfterMs);
    const giveUp = setTimeout(() => {
      onGivenUp();
      const seconds = limits.giveUpAfterMs / 1000;
      const time = seconds < 120 ? `${seconds} s` : `${Math.round(seconds / 60)} min`;
      reject(
        new PublishError(
          "E-WRITE",
          `gave up waiting to ${doing} ${path} after ${time}: the disk or share stalls; the last publication is untouched`,
        ),
      );
    }, limits.giveUpAfterMs);
    action()
      .then(resolve, (error) => reject(writeFailure(doing, path, error)))
      .finally(() => {
        clearTimeout(warn);
        clearTimeout(giveUp);
      });
  });
}

/**
 * The same effects, guarded. Use it for everything in the output folder, and for nothing else: an export that can't be
 * read is another kind of failure.
 */
export function guardedOutput(
  effects: Effects,
  onStall: (message: string) => void,
  limits: StallLimits = STALL_LIMITS,
): Effects {
  // Once a step was given up, the clearing up after it gets little time: nobody waits for hours to be told.
  let patience = limits;
  const giveUp = () => {
    patience = { warnAfterMs: limits.giveUpAfterMs, giveUpAfterMs: limits.warnAfterMs };
  };
  const guard = <T>(doing: string, path: string, action: () => Promise<T>) =>
    watched(doing, path, onStall, giveUp, patience, action);
  return {
    pid: effects.pid,
    host: effects.host,
    now: () => effects.now(),
    identityOf: (pid) => effects.identityOf(pid),
    isAlive: (pid) => effects.isAlive(pid),
    pause: (milliseconds) => effects.pause(milliseconds),
    kindOf: (path) => guard("look at", path, () => effects.kindOf(path)),
    list: (folder) => guard("list", folder, () => effects.list(folder)),
    read: (path) => guard("read", path, () => effects.read(path)),
    digest: (path) => guard("read", path, () => effects.digest(path)),
    makeFolder: (path) => guard("make the folder", path, () => effects.makeFolder(path)),
    write: (path, content) => guard("write", path, () => effects.write(path, content)),
    createNew: (path, content) => guard("create", path, () => effects.createNew(path, content)),
    append: (path, text) => guard("add to", path, () => effects.append(path, text)),
    writeStream: (path, chunks) => guard("write", path, () => effects.writeStream(path, chunks)),
    spool: async (path) => {
      const spool = await guard("write", path, () => effects.spool(path));
      return {
        write: (text) => spool.write(text),
        close: () => guard("write", path, () => spool.close()),
      };
    },
    rename: (from, to) => guard("put in place", to, () => effects.rename(from, to)),
    remove: (path) => guard("remove", path, () => effects.remove(path)),
    syncFolder: (path) => guard("write", path, () => effects.syncFolder(path)),
  };
}
