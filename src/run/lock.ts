/**
 * One run at a time in an output folder. The lock is a file that names its holder; a lock whose holder is dead on this
 * host is taken over, and said so. On another host nobody here can know whether the holder lives: refused, with what to do.
 */
import { join } from "node:path";
import { PublishError } from "../problems.ts";
import { type Effects, sha256Of, systemErrorCode } from "./effects.ts";

export const LOCK_FILE = ".lock";
/** Begins the names of claims on a dead run's lock. */
export const CLAIM_PREFIX = `${LOCK_FILE}-`;

interface LockHolder {
  readonly pid: number;
  readonly host: string;
  readonly started: string;
  readonly process: string | null;
}

export interface Lock {
  /** Throws where another run has taken the folder since: nothing may be published then. */
  assertHeld(): Promise<void>;
  release(): Promise<void>;
}

/** The holder that a lock file names, or null where it names none. */
export function parseLock(text: string): LockHolder | null {
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value !== "object" || value === null) return null;
    const { pid, host, started, process: identity } = value as Record<string, unknown>;
    if (typeof pid !== "number" || typeof host !== "string" || typeof started !== "string") return null;
    return { pid, host, started, process: typeof identity === "string" ? identity : null };
  } catch {
    return null;
  }
}

async function readLock(effects: Effects, path: string): Promise<string | null> {
  if ((await effects.kindOf(path)) === "none") return null;
  try {
    return Buffer.from(await effects.read(path)).toString("utf8");
  } catch (error) {
    // Released between the two looks. (The guard has already turned the failed read into words.)
    if ((await effects.kindOf(path)) === "none" || systemErrorCode(error) === "ENOENT") return null;
    throw error;
  }
}

/** True where a process on this host holds the lock and runs. */
function seemsAlive(effects: Effects, holder: LockHolder): boolean {
  if (holder.host !== effects.host || !effects.isAlive(holder.pid)) return false;
  return holder.process === null || effects.identityOf(holder.pid) === holder.process;
}

const whoHolds = ({ pid, host, started }: LockHolder): string =>
  `process ${pid} on ${host}, started ${started}`;

function refuseElsewhere(effects: Effects, holder: LockHolder, path: string): void {
  if (holder.host === effects.host) return;
  throw new PublishError(
    "E-LOCKED",
    `${path} is held by ${whoHolds(holder)}, and this host (${effects.host}) can't see whether it lives; ` +
      "wait for it, or if nothing runs there any more, delete that file and run again",
  );
}

function refuseUnlessDead(effects: Effects, holder: LockHolder, path: string): void {
  refuseElsewhere(effects, holder, path);
  if (!seemsAlive(effects, holder)) return;
  throw new PublishError(
    "E-LOCKED",
    `${path} is held by ${whoHolds(holder)}, which is still running; run again when it has ended`,
  );
}

/**
 * Removes what a dead process left, unless it has changed hands since it was judged. Only who holds the claim on it, a file
 * named after what it says, may do that; so what a living process has put in its place is never touched. A claim whose own
 * holder died is removed in the same way.
 *
 * @returns false where it was no longer there, or another is about to remove it
 */
async function removeDead(effects: Effects, path: string, judged: string, mine: string): Promise<boolean> {
  const claim = `${path}-${sha256Of(judged).slice(0, 12)}`;
  if (!(await effects.createNew(claim, mine))) {
    await effects.pause(ENDING_PATIENCE_MS);
    const left = await readLock(effects, claim);
    const claimant = left === null ? null : parseLock(left);
    if (claimant !== null) refuseElsewhere(effects, claimant, claim);
    if (left !== null && (claimant === null || !seemsAlive(effects, claimant)))
      await removeDead(effects, claim, left, mine);
    return false;
  }
  try {
    if ((await readLock(effects, path)) !== judged) return false;
    await effects.remove(path);
    return true;
  } finally {
    await effects.remove(claim);
  }
}

const ATTEMPTS = 5;
const EMPTY_LOCK_PATIENCE_MS = 2_000;
const ENDING_PATIENCE_MS = 500;

/**
 * Takes the lock of an output folder.
 *
 * @param onMessage  told of a lock that was taken over
 * @throws PublishError E-LOCKED where a live run, or one on another host, holds it
 */
export async function takeLock(
  effects: Effects,
  outFolder: string,
  onMessage: (message: string) => void,
): Promise<Lock> {
  const path = join(outFolder, LOCK_FILE);
  const mine = `${JSON.stringify({
    pid: effects.pid,
    host: effects.host,
    started: effects.now().toISOString(),
    process: effects.identityOf(effects.pid),
  })}\n`;
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    if (await effects.createNew(path, mine)) return heldLock(effects, path, mine);
    let found = await readLock(effects, path);
    if (found === null) continue;
    let holder = parseLock(found);
    if (holder === null) {
      // Either being written this very moment, or left half-written by a run that was killed.
      await effects.pause(EMPTY_LOCK_PATIENCE_MS);
      found = await readLock(effects, path);
      if (found === null) continue;
      holder = parseLock(found);
    }
    if (holder !== null && seemsAlive(effects, holder)) {
      // A run that was killed this moment needs one to end.
      await effects.pause(ENDING_PATIENCE_MS);
      found = await readLock(effects, path);
      if (found === null) continue;
      holder = parseLock(found);
    }
    if (holder !== null) refuseUnlessDead(effects, holder, path);
    if (await removeDead(effects, path, found, mine)) {
      const whose =
        holder === null ? "a run that left it unfinished" : `process ${holder.pid}, which is dead`;
      onMessage(
        `took over ${path}, left by ${whose}${holder === null ? "" : ` (started ${holder.started})`}`,
      );
    }
  }
  throw new PublishError("E-LOCKED", `${path} changes hands faster than it can be taken; run again later`);
}

function heldLock(effects: Effects, path: string, mine: string): Lock {
  return {
    async assertHeld() {
      if ((await readLock(effects, path)) === mine) return;
      throw new PublishError("E-LOCKED", `${path} was taken by another run meanwhile; nothing was published`);
    },
    async release() {
      if ((await readLock(effects, path)) === mine) await effects.remove(path);
    },
  };
}
