/**
 * A month being written aside: `OUT/.tmp-PID/`, checked against its manifest, then published by one rename. Until that
 * rename nothing that was published is touched; after it the month is whole.
 */
import { join } from "node:path";
import { PublishError } from "../problems.ts";
import { LongFile, type ReportFile } from "../report/report-file.ts";
import { byCodeUnit, type Effects, type Spool, sha256Of } from "./effects.ts";
import { INPUTS_FOLDER } from "./inputs.ts";
import { CLAIM_PREFIX, type Lock } from "./lock.ts";
import { damageOf, filesUnder, MANIFEST_FILE, type Manifest, manifestText } from "./manifest.ts";
import { listMonthFolders, monthFolderName, type Publication } from "./month-folders.ts";
import { CACHE_FOLDER } from "./text-cache.ts";

const DRAFT_PREFIX = ".tmp-";

/** What the manifest says besides the files. */
export type ManifestHead = Omit<Manifest, "files">;

export interface Draft {
  readonly folder: string;
  write(file: ReportFile): Promise<void>;
  spool(path: string): Promise<Spool>;
  /** The files written so far, with their hashes, in code-unit order. */
  files(): Promise<Manifest["files"]>;
  /** Writes the manifest, checks the folder against it and puts it in its place. Returns the name of its folder. */
  publish(
    head: ManifestHead,
    files: Manifest["files"],
    lock: Lock,
    publication?: Publication,
  ): Promise<string>;
  discard(): Promise<void>;
}

const SAFE_SEGMENT = /^[A-Za-z0-9][A-Za-z0-9._-]{0,120}$/;

/** A path inside the month's folder. Anything else is a bug in a page, since names from data are made into slugs. */
function assertSafePath(path: string): void {
  if (path === MANIFEST_FILE || !path.split("/").every((segment) => SAFE_SEGMENT.test(segment))) {
    throw new Error(`a report file may not be called ${JSON.stringify(path)}`);
  }
}

/** Name of the folder that a run of this process writes in. */
export const draftFolderName = (pid: number): string => `${DRAFT_PREFIX}${pid}`;

/**
 * Removes what runs that died left behind. Only the holder of the lock may do this: no claim on an earlier lock can then
 * come to anything.
 */
export async function clearLeftovers(
  effects: Effects,
  outFolder: string,
  onMessage: (message: string) => void,
): Promise<void> {
  for (const folder of [outFolder, join(outFolder, INPUTS_FOLDER), join(outFolder, CACHE_FOLDER)]) {
    for (const name of await effects.list(folder)) {
      if (!name.startsWith(DRAFT_PREFIX) && !name.startsWith(CLAIM_PREFIX)) continue;
      await effects.remove(join(folder, name));
      onMessage(`removed ${name}, left unfinished by an earlier run`);
    }
  }
}

/** Opens a draft. The folder is made anew. */
export async function openDraft(effects: Effects, outFolder: string): Promise<Draft> {
  const folder = join(outFolder, draftFolderName(effects.pid));
  await effects.remove(folder);
  await effects.makeFolder(folder);
  const written = new Map<string, { sha256: string; bytes: number }>();
  return {
    folder,
    async write(file) {
      const { path } = file;
      assertSafePath(path);
      const parent = path.split("/").slice(0, -1).join("/");
      if (parent !== "") await effects.makeFolder(join(folder, parent));
      if (file instanceof LongFile) {
        written.set(path, await effects.writeStream(join(folder, path), encoded(file.pieces())));
        return;
      }
      const { text } = file;
      await effects.write(join(folder, path), text);
      // The hash is of what was meant to be written: the check before publishing then finds what the disk made of it.
      written.set(path, { sha256: sha256Of(text), bytes: Buffer.byteLength(text) });
    },
    spool: (path) => {
      assertSafePath(path);
      return effects.spool(join(folder, path));
    },
    async files() {
      const files: Manifest["files"] = [];
      for (const path of await filesUnder(effects, folder)) {
        files.push({ path, ...(written.get(path) ?? (await effects.digest(join(folder, path)))) });
      }
      return files.sort((a, b) => byCodeUnit(a.path, b.path));
    },
    publish: (head, files, lock, publication = "report") =>
      publish(effects, outFolder, folder, { ...head, files }, lock, publication),
    discard: () => effects.remove(folder),
  };
}

async function* encoded(pieces: Iterable<string>): AsyncGenerator<Uint8Array> {
  for (const piece of pieces) yield Buffer.from(piece, "utf8");
}

async function publish(
  effects: Effects,
  outFolder: string,
  draftFolder: string,
  manifest: Manifest,
  lock: Lock,
  publication: Publication,
): Promise<string> {
  await effects.write(join(draftFolder, MANIFEST_FILE), manifestText(manifest));
  const damage = await damageOf(effects, draftFolder, manifest);
  if (damage.length > 0) {
    throw new PublishError(
      "E-WRITE",
      `what was written to ${draftFolder} doesn't read back as written (${damage.join("; ")}); ` +
        "check the disk, then run again; nothing was published",
    );
  }
  await effects.syncFolder(draftFolder);
  await lock.assertHeld();
  const revisions = (await listMonthFolders(effects, outFolder, publication))
    .filter((folder) => folder.month === manifest.month)
    .map((folder) => folder.revision);
  let revision = Math.max(0, ...revisions) + 1;
  const nameOf = (number: number) => monthFolderName(manifest.month, number, publication);
  // Something else by that name (a file, a link) is left alone, and the next number taken.
  while ((await effects.kindOf(join(outFolder, nameOf(revision)))) !== "none") revision++;
  const name = nameOf(revision);
  await effects.rename(draftFolder, join(outFolder, name));
  await effects.syncFolder(outFolder);
  return name;
}
