/**
 * The month that is committed under reports/example/: the demonstration cut down to one part and a few aircraft, so that a
 * change of the pages is seen in a diff. `npm run example` writes it again.
 */
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { ROOT, runCli } from "./run-cli.ts";
import { smallFleet } from "./small-fleet.ts";

export const EXAMPLE = join(ROOT, "reports", "example");

const CUT = {
  aircraft: [118, 119, 120, 121, 122, 123, 143, 144, 145, 146, 147, 148].map((number) => `SH-${number}`),
  files: /-202[1-4]-09\.csv$/,
};

/** The fleet file without the link bearing and its task, and without the roster, which is of a later day. */
const onePart = (yaml: string): string =>
  yaml
    .replace(/\n {2}- part: link bearing[\s\S]*?(?=\n\n)/, "")
    .replace(/\n {2}- task: link bearing[\s\S]*?(?=\n\n)/, "")
    .replace(/\n {2}installed:[\s\S]*?(?=\n {2}flying:)/, "")
    .replace(/fleet: .*/, "fleet: A small fleet of the demonstration");

/** Publishes the example with the built program; gives the folder that holds what is committed, and no more. */
export async function publishExample(): Promise<string> {
  const fleet = await smallFleet(CUT, (line) => !line.includes("LB-220"));
  const file = join(fleet, "fleet.yaml");
  await writeFile(file, onePart(await readFile(file, "utf8")));
  const out = await mkdtemp(join(tmpdir(), "rotorwear-example-"));
  const { code, stderr } = await runCli(["report", file, "--out", out, "--quiet", "--no-keep-inputs"]);
  if (code !== 0) throw new Error(`the example could not be published (exit ${code}): ${stderr}`);
  const month = (await readFile(join(out, "latest"), "utf8")).trim();
  // The manifest holds a hash of the program's own files, which every change of a comment would change.
  for (const name of ["log", "cache", "inputs", join(month, "manifest.json")])
    await rm(join(out, name), { recursive: true, force: true });
  await rm(fleet, { recursive: true });
  return out;
}

/** Paths of all files below a folder, in order, without the pictures of the README. */
export async function filesOf(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile() && !entry.name.endsWith(".png"))
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .sort();
}

/** Puts a published example in the place of the one committed. The pictures beside it stay. */
export async function replaceExample(published: string): Promise<void> {
  for (const path of await filesOf(EXAMPLE)) await rm(join(EXAMPLE, path));
  await cp(published, EXAMPLE, { recursive: true });
}
