/**
 * The exports of a run: their hashes before anything is computed (so that a rerun is recognised), and their copies in
 * `OUT/inputs/`, kept once by hash, so that a published month can be recomputed later.
 */
import { join } from "node:path";
import type { ExportKind, Fleet, FleetTables } from "../fleet/fleet.ts";
import type { ExportSource } from "../ingest/source.ts";
import { ExportError } from "../problems.ts";
import { digestOf, type Effects, sha256Of } from "./effects.ts";

export const INPUTS_FOLDER = "inputs";

/** What a file is an input as: one of the exports, or a table of lives or sums that stands in place of wear. */
type InputKind = ExportKind | keyof FleetTables;

export interface InputFile {
  readonly file: string;
  readonly kind: InputKind;
  readonly sha256: string;
  readonly bytes: number;
}

const KINDS: readonly ExportKind[] = ["wear", "gaps", "removals", "installed", "flying"];

/** The patterns of every kind of input that the fleet file names. */
function patternsOf({ exports, tables }: Fleet): { kind: InputKind; patterns: readonly string[] }[] {
  const kinds: { kind: InputKind; patterns: readonly string[] | undefined }[] = [
    ...KINDS.map((kind) => ({ kind, patterns: exports[kind]?.files })),
    { kind: "lives", patterns: tables?.lives },
    { kind: "sums", patterns: tables?.sums },
  ];
  return kinds.flatMap(({ kind, patterns }) => (patterns === undefined ? [] : [{ kind, patterns }]));
}

/** Every export that the fleet file names, hashed. Throws what the source throws (exit 3). */
export async function hashInputs(fleet: Fleet, source: ExportSource): Promise<InputFile[]> {
  const named: { file: string; kind: InputKind }[] = [];
  for (const { kind, patterns } of patternsOf(fleet))
    for (const file of await source.list(patterns)) named.push({ file, kind });
  const inputs: InputFile[] = [];
  for (let first = 0; first < named.length; first += HASHED_AT_ONCE) {
    const some = named.slice(first, first + HASHED_AT_ONCE);
    const digests = await Promise.allSettled(some.map(({ file }) => digestOf(source.open(file))));
    for (const [at, digest] of digests.entries()) {
      // Of several that can't be read the first is told, whichever failed first.
      if (digest.status === "rejected") throw digest.reason;
      inputs.push({ ...some[at]!, ...digest.value });
    }
  }
  return inputs;
}

/** While a file is opened another is hashed. */
const HASHED_AT_ONCE = 8;

/** The same source, telling after each chunk how many bytes were read from it in all. */
export function countingSource(source: ExportSource, onBytes: (total: number) => void): ExportSource {
  let total = 0;
  return {
    list: (patterns) => source.list(patterns),
    async *open(path) {
      for await (const chunk of source.open(path)) {
        total += chunk.length;
        onBytes(total);
        yield chunk;
      }
    },
  };
}

const replaced = (file: string): ExportError =>
  new ExportError(
    "E-FILE-READ",
    `${file} was replaced while it was being read; run again once the export is complete; nothing was published`,
  );

/** Throws where an export read later is not the one that was hashed. */
export function assertSameInputs(
  hashed: readonly InputFile[],
  read: readonly { readonly file: string; readonly kind: string; readonly sha256: string }[],
): void {
  const key = (input: { file: string; kind: string }) => `${input.kind}\n${input.file}`;
  const before = new Map(hashed.map((input) => [key(input), input.sha256]));
  for (const input of read) {
    if (before.get(key(input)) !== input.sha256) throw replaced(input.file);
  }
  if (read.length !== hashed.length) {
    const later = new Set(read.map(key));
    const missing = hashed.find((input) => !later.has(key(input)));
    throw replaced(missing?.file ?? "an export");
  }
}

async function keep(
  effects: Effects,
  folder: string,
  sha256: string,
  bytes: number | null,
  chunks: () => AsyncIterable<Uint8Array>,
  file: string,
): Promise<void> {
  const path = join(folder, sha256);
  if ((await effects.kindOf(path)) === "file") {
    const kept = await effects.digest(path);
    if (kept.sha256 === sha256 && (bytes === null || kept.bytes === bytes)) return;
  }
  const beside = join(folder, `.tmp-${effects.pid}`);
  const written = await effects.writeStream(beside, chunks());
  if (written.sha256 !== sha256) {
    await effects.remove(beside);
    throw replaced(file);
  }
  await effects.rename(beside, path);
}

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}

/** Keeps each export once, by its hash. One that is kept already and reads back whole is not copied again. */
export async function keepInputs(
  effects: Effects,
  outFolder: string,
  inputs: readonly InputFile[],
  source: ExportSource,
): Promise<void> {
  const folder = join(outFolder, INPUTS_FOLDER);
  await effects.makeFolder(folder);
  for (const input of inputs) {
    await keep(effects, folder, input.sha256, input.bytes, () => source.open(input.file), input.file);
  }
}

/** Keeps a small text (the fleet file, an earlier month's run.json) by its hash. */
export async function keepText(effects: Effects, outFolder: string, file: string, content: Uint8Array) {
  const folder = join(outFolder, INPUTS_FOLDER);
  await effects.makeFolder(folder);
  await keep(effects, folder, sha256Of(content), content.length, () => once(content), file);
}

/**
 * The kept exports of a published month, under the names they had. What the fleet file's patterns matched when the month
 * was made is what counts, whatever stands in the fleet file's folder today.
 */
export function keptSource(
  effects: Effects,
  outFolder: string,
  fleet: Fleet,
  inputs: readonly InputFile[],
): ExportSource {
  const byFile = new Map(inputs.map((input) => [input.file, input]));
  const byPatterns = new Map<string, readonly string[]>();
  for (const { kind, patterns } of patternsOf(fleet)) {
    const files = inputs.filter((input) => input.kind === kind).map((input) => input.file);
    byPatterns.set(patterns.join("\n"), files);
  }
  return {
    list: async (patterns) => byPatterns.get(patterns.join("\n")) ?? [],
    open: (file) => openKept(effects, outFolder, byFile.get(file)),
  };
}

async function* openKept(effects: Effects, outFolder: string, input: InputFile | undefined) {
  if (input === undefined) throw new Error("an export was asked for that the manifest doesn't list");
  yield await readKept(effects, outFolder, input.sha256, input.file);
}

/** A kept input by its hash, checked against it. Throws ExportError where it isn't there or was changed. */
export async function readKept(
  effects: Effects,
  outFolder: string,
  sha256: string,
  file: string,
): Promise<Uint8Array> {
  const path = join(outFolder, INPUTS_FOLDER, sha256);
  if ((await effects.kindOf(path)) !== "file") {
    throw new ExportError(
      "E-NO-FILE",
      `${file} of this month was not kept (${path}: none); put the file back there, or publish without --no-keep-inputs`,
    );
  }
  const content = await effects.read(path);
  if (sha256Of(content) !== sha256) {
    throw new ExportError(
      "E-FILE-READ",
      `${path} (${file}) is damaged: its content doesn't have the hash in its name`,
    );
  }
  return content;
}
