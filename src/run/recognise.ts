/** A rerun with the same inputs, settings and program is recognised by the manifests of what was published. */
import { join } from "node:path";
import { type Day, isoDate } from "../units.ts";
import type { Effects } from "./effects.ts";
import type { InputFile } from "./inputs.ts";
import { damageOf, type Manifest, readManifest } from "./manifest.ts";
import { listMonthFolders, newestRevisions } from "./month-folders.ts";
import type { Program } from "./program.ts";
import type { Raised } from "./raised.ts";

interface Asked {
  readonly outFolder: string;
  readonly asOf: Day | null;
  readonly program: Program;
  /** Month-ends that a record replays; left out for a month's report. */
  readonly months?: number;
}

/** The page without which a publication is none. */
const PAGE = { report: "index.html", record: "record.html" } as const;

const inputsKey = (inputs: readonly { file: string; kind: string; sha256: string }[]): string =>
  JSON.stringify(inputs.map((input) => [input.kind, input.file, input.sha256]));

function sameRun(
  manifest: Manifest,
  asked: Asked,
  fleetSha256: string,
  inputs: readonly InputFile[],
): boolean {
  const sameDay =
    asked.asOf === null ? manifest.as_of_asked === null : manifest.as_of === isoDate(asked.asOf);
  return (
    sameDay &&
    manifest.months_replayed === asked.months &&
    manifest.fleet_file.sha256 === fleetSha256 &&
    manifest.program === asked.program.name &&
    manifest.program_sha256 === asked.program.sha256 &&
    inputsKey(manifest.inputs) === inputsKey(inputs)
  );
}

/**
 * The newest revision of a month that this very run made before, if it is whole; null where there is none. One that was
 * damaged since is named, and made again as the next revision.
 */
export async function recogniseRun(
  effects: Effects,
  asked: Asked,
  fleetSha256: string,
  inputs: readonly InputFile[],
  tell: { readonly say: (message: string) => void; readonly warn: (message: string) => void },
): Promise<{ folder: string; raised: readonly Raised[] } | null> {
  const publication = asked.months === undefined ? "report" : "record";
  const newest = newestRevisions(await listMonthFolders(effects, asked.outFolder, publication)).reverse();
  for (const { folder } of newest) {
    const reading = await readManifest(effects, join(asked.outFolder, folder));
    if (reading.kind !== "read" || !sameRun(reading.manifest, asked, fleetSha256, inputs)) continue;
    if ((await effects.kindOf(join(asked.outFolder, folder, PAGE[publication]))) === "none") {
      tell.say(`${folder} was made from the same inputs, but has no pages any more; it is made again`);
      continue;
    }
    const damage = await damageOf(effects, join(asked.outFolder, folder), reading.manifest);
    if (damage.length === 0) return { folder, raised: reading.manifest.raised };
    tell.warn(
      `${folder} was damaged since it was published (${damage.slice(0, 5).join("; ")}); it is made again`,
    );
  }
  return null;
}
