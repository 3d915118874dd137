/** Recomputes a published month from the inputs that were kept, and compares byte for byte. */
import { basename, dirname, join, resolve } from "node:path";
import { ExportError, UsageError } from "../problems.ts";
import { dayFromIso } from "../units.ts";
import { computeMonth, REJECTED_FILE } from "./compute-month.ts";
import type { Effects } from "./effects.ts";
import { LATEST_FILE } from "./front-page.ts";
import { keptFleetText, type PreviousRun, parseRun, RUN_FILE } from "./history.ts";
import { keptSource, readKept } from "./inputs.ts";
import { damageOf, filesUnder, type Manifest, readManifest } from "./manifest.ts";
import { parseMonthFolder } from "./month-folders.ts";
import type { Program } from "./program.ts";
import { KEPT_FILES } from "./retention.ts";
import type { Stages } from "./stages.ts";

export type Verification =
  | {
      readonly kind: "same";
      readonly folder: string;
      readonly files: number;
      readonly remarks: readonly string[];
    }
  | {
      readonly kind: "different";
      readonly folder: string;
      readonly first: string;
      readonly remarks: readonly string[];
    };

/** The month's folder that a path means: itself, or the latest month of an output folder. */
export async function monthFolderAt(effects: Effects, path: string): Promise<string> {
  if (parseMonthFolder(basename(resolve(path))) !== null && (await effects.kindOf(path)) === "folder")
    return path;
  const latest = join(path, LATEST_FILE);
  if ((await effects.kindOf(latest)) === "file") {
    const name = Buffer.from(await effects.read(latest))
      .toString("utf8")
      .trim();
    if (parseMonthFolder(name) !== null) return join(path, name);
  }
  throw new UsageError(
    "E-USAGE",
    `${path}: expected a published month (such as reports/2026-09) or an output folder with a file "latest"`,
  );
}

async function manifestOf(effects: Effects, folder: string): Promise<Manifest> {
  const reading = await readManifest(effects, folder);
  if (reading.kind === "read") return reading.manifest;
  const why =
    reading.kind === "none" ? `${folder} has no manifest, so it is no published month` : reading.why;
  throw new UsageError("E-USAGE", why);
}

async function previousOf(
  effects: Effects,
  outFolder: string,
  manifest: Manifest,
): Promise<PreviousRun | null> {
  if (manifest.previous === null) return null;
  const { folder, sha256 } = manifest.previous;
  const content = await readKept(effects, outFolder, sha256, `${folder}/${RUN_FILE}`);
  const reading = parseRun(content);
  if (reading.kind === "refused")
    throw new ExportError("E-FILE-READ", `${folder}/${RUN_FILE}: ${reading.why}`);
  const fleetText = await keptFleetText(effects, outFolder, reading.run.settings_sha256);
  return { folder, sha256, content, run: reading.run, fleetText };
}

/**
 * Verifies a month.
 *
 * @param path  the month's folder, or an output folder (then its latest month)
 * @throws UsageError where there is no such month; ExportError where its inputs were not kept or are damaged
 */
export async function verifyMonth(
  effects: Effects,
  stages: Stages,
  program: Program,
  path: string,
): Promise<Verification> {
  const folder = await monthFolderAt(effects, path);
  const outFolder = dirname(resolve(folder));
  const manifest = await manifestOf(effects, folder);
  const remarks =
    manifest.program === program.name && manifest.program_sha256 === program.sha256
      ? []
      : [
          `published by ${manifest.program}, build ${manifest.program_sha256.slice(0, 12)}; this is ${program.name}, build ${program.sha256.slice(0, 12)}`,
        ];
  const files = await filesLeft(effects, folder, manifest);
  if (files.length < manifest.files.length)
    remarks.push("its pages were removed (--keep); only what is left of it is compared");
  const [damage] = await damageOf(effects, folder, { ...manifest, files });
  if (damage !== undefined)
    return { kind: "different", folder, first: `${damage} since it was published`, remarks };
  const recomputed = await recompute(effects, stages, outFolder, manifest);
  const first = await firstDifference(effects, folder, manifest, files, recomputed);
  if (first !== null) return { kind: "different", folder, first, remarks };
  return { kind: "same", folder, files: files.length, remarks };
}

/** The files that must be there: all of the manifest, or what --keep leaves where everything else is gone. */
async function filesLeft(effects: Effects, folder: string, manifest: Manifest): Promise<Manifest["files"]> {
  const kept = manifest.files.filter(({ path }) => KEPT_FILES.has(path));
  const there = new Set(await filesUnder(effects, folder));
  const thinned = manifest.files.every(({ path }) => KEPT_FILES.has(path) || !there.has(path));
  return thinned ? kept : manifest.files;
}

async function recompute(
  effects: Effects,
  stages: Stages,
  outFolder: string,
  manifest: Manifest,
): Promise<Map<string, string>> {
  const { file, sha256 } = manifest.fleet_file;
  const fleetText = Buffer.from(await readKept(effects, outFolder, sha256, file)).toString("utf8");
  const fleet = stages.readFleet(fleetText, file);
  const rejected: string[] = [];
  const { files } = await computeMonth(stages, {
    fleet,
    fleetText,
    source: keptSource(effects, outFolder, fleet, manifest.inputs),
    asOf: manifest.as_of_asked === null ? null : dayFromIso(manifest.as_of_asked),
    program: manifest.program,
    rejected: (text) => rejected.push(text),
    previous: () => previousOf(effects, outFolder, manifest),
  });
  return new Map([...files.map((one) => [one.path, one.text] as const), [REJECTED_FILE, rejected.join("")]]);
}

async function firstDifference(
  effects: Effects,
  folder: string,
  manifest: Manifest,
  files: Manifest["files"],
  recomputed: ReadonlyMap<string, string>,
): Promise<string | null> {
  for (const { path } of files) {
    const text = recomputed.get(path);
    if (text === undefined) return `${path} was published, and is not made any more`;
    const published = await effects.read(join(folder, path));
    const difference = firstDifferentLine(published, Buffer.from(text));
    if (difference !== null) return `${path}:${difference}`;
  }
  const listed = new Set(manifest.files.map((file) => file.path));
  const extra = [...recomputed.keys()].find((path) => !listed.has(path));
  return extra === undefined ? null : `${extra} is made now, and was not published`;
}

const SHOWN = 60;

/** Line and column (bytes, from 1) where two contents part, with what each has there; null where they are equal. */
export function firstDifferentLine(published: Uint8Array, recomputed: Uint8Array): string | null {
  const shorter = Math.min(published.length, recomputed.length);
  let at = 0;
  while (at < shorter && published[at] === recomputed[at]) at++;
  if (at === shorter && published.length === recomputed.length) return null;
  let line = 1;
  let lineStart = 0;
  for (let i = 0; i < at; i++) {
    if (published[i] !== 10) continue;
    line++;
    lineStart = i + 1;
  }
  const shown = (bytes: Uint8Array) =>
    JSON.stringify(Buffer.from(bytes.subarray(at, at + SHOWN)).toString("utf8"));
  return `${line}:${at - lineStart + 1} published ${shown(published)}, recomputed ${shown(recomputed)}`;
}
