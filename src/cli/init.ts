/** `rotorwear init`: a first fleet file for exports that are there, or the schema of fleet files. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { fleetJsonSchema } from "../fleet/schema-json.ts";
import { starterFleet } from "../fleet/starter.ts";
import type { SeenFile } from "../fleet/starter-columns.ts";
import { EXIT, RotorwearError, UsageError } from "../problems.ts";
import { byCodeUnit, fileEffects, systemErrorCode } from "../run/effects.ts";
import { writeFailure } from "../run/output-guard.ts";
import { lookAtExport } from "./look-at-export.ts";
import type { Terminal } from "./terminal.ts";

const FLEET_FILE = "fleet.yaml";

/** Folders of months that rotorwear published, and of the inputs kept beside them: no exports, though full of CSVs. */
function publishedFolders(paths: readonly string[]): string[] {
  return paths.flatMap((path) => {
    const match = /^(.*\/)?[^/]+\/run\.json$/.exec(path);
    if (match === null) return [];
    return [path.slice(0, -"run.json".length), `${match[1] ?? ""}inputs/`];
  });
}

async function csvFilesUnder(folder: string): Promise<string[]> {
  try {
    const names = await readdir(folder, { recursive: true, encoding: "utf8" });
    const paths = names.map((name) => name.replaceAll("\\", "/"));
    const own = publishedFolders(paths);
    return paths
      .filter((path) => /\.(csv|tsv|txt)$/i.test(path) && !path.split("/").includes("node_modules"))
      .filter((path) => !own.some((folder) => path.startsWith(folder)))
      .sort(byCodeUnit);
  } catch (error) {
    if (systemErrorCode(error) === null) throw error;
    throw new UsageError(
      "E-USAGE",
      `${folder}: expected a folder with CSV exports, found none (${systemErrorCode(error)})`,
    );
  }
}

async function seenFiles(folder: string, terminal: Terminal): Promise<SeenFile[]> {
  const seen: SeenFile[] = [];
  for (const path of await csvFilesUnder(folder)) {
    try {
      const table = lookAtExport(path, await readFile(join(folder, path)));
      if (table === null) terminal.note("info", `${path}: no heading line was found; left out`);
      else seen.push({ path, ...table });
    } catch (error) {
      if (!(error instanceof RotorwearError)) throw error;
      terminal.note("warning", `${path}: left out: ${error.message}`);
    }
  }
  return seen;
}

/** Writes the file beside the exports; one that is there already is left alone. */
export async function initCommand(
  folder: string | undefined,
  options: { readonly schema?: boolean },
  terminal: Terminal,
): Promise<number> {
  if (options.schema) {
    terminal.result(JSON.stringify(fleetJsonSchema(), null, 2));
    return EXIT.done;
  }
  if (folder === undefined)
    throw new UsageError("E-USAGE", "expected a folder with CSV exports, or --schema");
  const seen = await seenFiles(folder, terminal);
  if (seen.length === 0) throw new UsageError("E-USAGE", `${folder}: expected CSV exports, found none`);
  const path = join(folder, FLEET_FILE);
  let isNew: boolean;
  try {
    isNew = await fileEffects.createNew(path, starterFleet(seen));
  } catch (error) {
    throw writeFailure("write", path, error);
  }
  if (!isNew)
    throw new UsageError("E-USAGE", `${path} is there already; move it away first, it is not overwritten`);
  terminal.result(
    `${path}: written from ${seen.length} export(s); go through every line marked "check" or "FILL IN"`,
  );
  return EXIT.done;
}
