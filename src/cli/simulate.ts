/** `rotorwear simulate`: an invented fleet whose truth is known, as files. */
import { join } from "node:path";
import { EXIT, UsageError } from "../problems.ts";
import { fileEffects } from "../run/effects.ts";
import { writeNewFolder } from "../run/write-folder.ts";
import { simulateFleet } from "../simulate/demonstration.ts";
import { simulateLargeFleet } from "../simulate/large-fleet.ts";
import type { Terminal } from "./terminal.ts";

/** Writes the fleet into a folder that is empty or not there yet. */
export async function simulateCommand(
  folder: string,
  options: { readonly seed: number; readonly readings?: number },
  terminal: Terminal,
): Promise<number> {
  if ((await fileEffects.list(folder)).length > 0) {
    throw new UsageError("E-USAGE", `${folder} is not empty; name a folder that is empty or not there yet`);
  }
  const { seed, readings } = options;
  const fleet = readings === undefined ? simulateFleet(seed) : simulateLargeFleet(seed, readings);
  const files = await writeNewFolder(fileEffects, folder, fleet);
  const fleetFile = join(folder, "fleet.yaml");
  const truth = readings === undefined ? "; the truth is in truth.json" : "";
  terminal.result(`${folder}: ${files} files, seed ${seed}${truth}`);
  terminal.note(
    "info",
    `next: rotorwear report ${fileArgument(fleetFile)} --out ${fileArgument(join(folder, "reports"))}`,
  );
  return EXIT.done;
}

const fileArgument = (path: string): string => (/^[\w./-]+$/.test(path) ? path : JSON.stringify(path));
