/**
 * The real effects with every changing step counted, so that a test can break or "kill" the run at each of them.
 * A kill is worse than an error: the step is left half done and nothing after it happens, no clean-up either.
 */
import { appendFile, writeFile } from "node:fs/promises";
import type { Effects } from "../../src/run/effects.ts";

export interface Fault {
  /** Step number, from 1. */
  readonly at: number;
  readonly kind: "kill" | { readonly code: string };
}

export class Killed extends Error {}

export interface Recording extends Effects {
  readonly steps: readonly string[];
}

const systemError = (code: string): Error => Object.assign(new Error(code), { code });

/** Wraps effects: records each changing step, and does what `fault` says at one of them. */
export function recordingEffects(inner: Effects, fault: Fault | null): Recording {
  const steps: string[] = [];
  let dead = false;
  const step = async <T>(
    name: string,
    action: () => Promise<T>,
    half?: () => Promise<unknown>,
  ): Promise<T> => {
    if (dead) throw new Killed();
    steps.push(name);
    if (fault?.at !== steps.length) return action();
    if (half !== undefined) await half();
    if (fault.kind === "kill") {
      dead = true;
      throw new Killed();
    }
    throw systemError(fault.kind.code);
  };
  const alive = <T>(action: () => Promise<T>): Promise<T> => (dead ? Promise.reject(new Killed()) : action());
  const halfOf = (content: string | Uint8Array) => content.slice(0, Math.floor(content.length / 2));
  return {
    ...inner,
    steps,
    kindOf: (path) => alive(() => inner.kindOf(path)),
    list: (folder) => alive(() => inner.list(folder)),
    read: (path) => alive(() => inner.read(path)),
    digest: (path) => alive(() => inner.digest(path)),
    makeFolder: (path) => step(`folder ${path}`, () => inner.makeFolder(path)),
    write: (path, content) =>
      step(
        `write ${path}`,
        () => inner.write(path, content),
        () => writeFile(path, halfOf(content)),
      ),
    createNew: (path, content) =>
      step(
        `create ${path}`,
        () => inner.createNew(path, content),
        () => writeFile(path, halfOf(content)),
      ),
    append: (path, text) =>
      step(
        `append ${path}`,
        () => inner.append(path, text),
        () => appendFile(path, halfOf(text)),
      ),
    writeStream: (path, chunks) =>
      step(
        `stream ${path}`,
        () => inner.writeStream(path, chunks),
        () => writeFile(path, "half"),
      ),
    spool: async (path) => {
      const spool = await step(`spool ${path}`, () => inner.spool(path));
      // The file is closed whatever happens: a real process that dies leaves no open file either.
      const close = () => spool.close();
      return { write: (text) => spool.write(text), close: () => step(`close ${path}`, close, close) };
    },
    rename: (from, to) => step(`rename ${to}`, () => inner.rename(from, to)),
    remove: (path) => step(`remove ${path}`, () => inner.remove(path)),
    syncFolder: (path) => step(`sync ${path}`, () => inner.syncFolder(path)),
  };
}
