/** Exports on disk: patterns resolved under one folder and nowhere else, bytes streamed. */
import type { Stats } from "node:fs";
import { lstat, open, readdir, realpath, stat } from "node:fs/promises";
import { basename, join, sep } from "node:path";
import { nearestWord } from "../fleet/nearest-word.ts";
import { ExportError } from "../problems.ts";
import { isPattern, matchesName, patternSegments } from "./match-path.ts";
import type { ExportSource } from "./source.ts";

const CHUNK_BYTES = 1 << 20;

/** A source over the files under `root` (the fleet file's folder, or the folder given by --exports). */
export function exportFolder(root: string): ExportSource {
  return {
    list: (patterns) => listFiles(root, patterns),
    open: (path) => readBytes(join(root, path), path),
  };
}

async function listFiles(root: string, patterns: readonly string[]): Promise<readonly string[]> {
  const found = new Set<string>();
  const realRoot = await realpath(root).catch(() => {
    throw new ExportError("E-NO-FILE", `${root}: expected the folder of the exports, found none`);
  });
  for (const pattern of patterns) {
    const segments = patternSegments(pattern);
    if (segments === null) throw outside(pattern, "the pattern leads out of it");
    const paths = await expand(root, "", segments);
    if (paths.length === 0) throw await noFile(root, pattern);
    for (const path of paths) {
      const real = await realpath(join(root, path));
      if (!real.startsWith(realRoot.endsWith(sep) ? realRoot : realRoot + sep))
        throw outside(path, "a symbolic link leads out of it");
      found.add(path);
    }
  }
  return [...found].sort();
}

const outside = (what: string, why: string): ExportError =>
  new ExportError("E-OUTSIDE", `${what}: expected a file within the exports' folder, but ${why}`);

/** Paths under `folder` (relative to root) that the segments match; links to nothing are left out. */
async function expand(root: string, folder: string, segments: readonly string[]): Promise<string[]> {
  const [segment, ...rest] = segments;
  if (segment === undefined) return [folder];
  const within = (name: string): string => (folder === "" ? name : `${folder}/${name}`);
  if (!isPattern(segment)) {
    const exists = await stat(join(root, within(segment))).catch(() => null);
    return exists === null ? [] : expand(root, within(segment), rest);
  }
  const names = (await readdir(join(root, folder)).catch(() => [])).sort();
  const found: string[] = segment === "**" ? await expand(root, folder, rest) : [];
  for (const name of names) {
    if (!matchesName(segment === "**" ? "*" : segment, name)) continue;
    const entry = await stat(join(root, within(name))).catch(() => null);
    if (entry === null) continue;
    if (segment === "**") {
      // Links aren't followed down: two that lead back here would take for ever.
      const isLink = (await lstat(join(root, within(name)))).isSymbolicLink();
      if (entry.isDirectory() && !isLink) found.push(...(await expand(root, within(name), segments)));
    } else if (rest.length === 0 || entry.isDirectory()) {
      found.push(...(await expand(root, within(name), rest)));
    }
  }
  return found;
}

async function noFile(root: string, pattern: string): Promise<ExportError> {
  const segments = patternSegments(pattern) ?? [];
  const folder = segments.slice(0, -1).filter((segment) => !isPattern(segment));
  const names = await readdir(join(root, ...folder)).catch(() => [] as string[]);
  const isLink = !isPattern(basename(pattern)) && names.includes(basename(pattern));
  const near = isLink ? null : nearestWord(basename(pattern), names.sort());
  const hint = isLink
    ? "a link of that name leads nowhere"
    : near !== null
      ? `did you mean ${near}?`
      : "see exports: in the fleet file; patterns resolve under its folder";
  return new ExportError("E-NO-FILE", `${pattern}: expected at least one file, found none (${hint})`);
}

/** The bytes of a file, with a check that it didn't change between the first byte and the last. */
async function* readBytes(fullPath: string, path: string): AsyncGenerator<Uint8Array> {
  try {
    // Before opening: a named pipe without a writer would keep open() waiting for ever.
    const before = await stat(fullPath);
    if (!before.isFile()) {
      const what = before.isDirectory() ? "a folder" : "a device or pipe";
      throw new ExportError("E-FILE-READ", `${path}: expected a file, found ${what}`);
    }
    const handle = await open(fullPath, "r");
    try {
      let total = 0;
      // A file that keeps growing is given up as soon as it is longer than it was.
      while (total <= before.size) {
        // A fresh buffer each time: what was yielded may still be in use. One byte more than is left, to see the end.
        const most = Math.min(CHUNK_BYTES, before.size - total + 1);
        const { bytesRead, buffer } = await handle.read(Buffer.allocUnsafe(most), 0, most, null);
        if (bytesRead === 0) break;
        total += bytesRead;
        yield buffer.subarray(0, bytesRead);
      }
      if (total !== before.size || changed(before, await stat(fullPath))) throw changedWhileRead(path);
    } finally {
      await handle.close();
    }
  } catch (error) {
    throw asExportError(error, path);
  }
}

const changedWhileRead = (path: string): ExportError =>
  new ExportError(
    "E-FILE-READ",
    `${path}: the file changed while it was being read (run again once the export is complete)`,
  );

const changed = (before: Stats, after: Stats): boolean =>
  before.size !== after.size || before.mtimeMs !== after.mtimeMs || before.ino !== after.ino;

const REFUSALS: Readonly<Record<string, string>> = {
  EACCES: "there is no permission to read it",
  EPERM: "there is no permission to read it",
  EISDIR: "it is a folder",
  ENOENT: "it is gone",
  EIO: "the disk reports a read error",
  EMFILE: "too many files are open",
};

/** What the file system refused, in words; an error that is not the file system's is a bug and passes through. */
function asExportError(error: unknown, path: string): unknown {
  if (!(error instanceof Error && "syscall" in error && "code" in error)) return error;
  const code = String(error.code);
  return new ExportError(
    "E-FILE-READ",
    `${path}: expected a readable file, but ${REFUSALS[code] ?? `the system says ${code}`}`,
  );
}
