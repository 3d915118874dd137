/** The demonstration cut down to a few aircraft, so that whole runs of the built program take seconds. */
import { mkdir, mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ROOT } from "./run-cli.ts";

const DEMONSTRATION = join(ROOT, "data-samples", "demonstration");

/** Only exports of these years, and rows of these aircraft. */
export interface Cut {
  readonly aircraft: readonly string[];
  readonly files: RegExp;
}

export const SMALL_CUT: Cut = {
  aircraft: ["SH-101", "SH-102", "SH-145", "SH-170"],
  files: /-2026-\d\d\.csv$/,
};

/** Writes the small fleet into a fresh folder, which is given back. `wanted` may leave out further rows. */
export async function smallFleet(
  cut: Cut = SMALL_CUT,
  wanted: (line: string) => boolean = () => true,
): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "rotorwear-small-"));
  await mkdir(join(folder, "exports"));
  await writeFile(join(folder, "fleet.yaml"), await readFile(join(DEMONSTRATION, "fleet.yaml")));
  for (const name of await readdir(join(DEMONSTRATION, "exports"))) {
    if (!cut.files.test(name)) continue;
    // Byte for byte: latin1 loses nothing, whatever the encoding is.
    const lines = (await readFile(join(DEMONSTRATION, "exports", name), "latin1")).split(/(?<=\n)/);
    const heading = lines.findIndex((line) => /Tail/.test(line));
    const kept = lines.filter(
      (line, at) => at <= heading || (wanted(line) && cut.aircraft.some((tail) => line.includes(tail))),
    );
    await writeFile(join(folder, "exports", name), kept.join(""), "latin1");
  }
  return folder;
}
