/** A fleet as large as one likes, as a stream: for benchmarks. */
import { DEMONSTRATION_PLAN } from "./demonstration.ts";
import { DEMONSTRATION_FLEET_FILE } from "./demonstration-fleet-file.ts";
import { DEMONSTRATION_SETTINGS } from "./demonstration-settings.ts";
import { encodeExport, encodeText } from "./dialect.ts";
import { writeExports } from "./exports.ts";
import { simulateMaintenance, streamSeed } from "./maintenance.ts";

/** A piece of a file; pieces of one path are to be written one after the other. */
export interface ExportChunk {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/**
 * The exports of a fleet with at least `readings` looks, without planted faults, and its fleet file.
 *
 * Fleets like the demonstration's are put side by side, each with aircraft and serials of its own, into one file per
 * export. Only one of them is in memory at a time. The same seed and size give the same bytes.
 */
export async function* simulateLargeFleet(seed: number, readings: number): AsyncGenerator<ExportChunk> {
  yield { path: "fleet.yaml", bytes: encodeText(DEMONSTRATION_FLEET_FILE, "utf-8") };
  const { flying, parts } = DEMONSTRATION_SETTINGS;
  let written = 0;
  let firstComponent = 0;
  for (let block = 0; written < readings; block++) {
    const record = simulateMaintenance(DEMONSTRATION_SETTINGS, streamSeed(seed, 1000 + block));
    const plan = {
      ...DEMONSTRATION_PLAN,
      monthlyMonths: 0,
      olderFileMonths: flying.months,
      firstAircraft: block * record.flying.aircraft,
      firstComponent,
    };
    for (const text of writeExports(record, parts, plan)) {
      const lines = block === 0 ? text.lines : text.lines.slice(1);
      yield encodeExport({ ...text, lines });
    }
    written += record.parts.reduce((sum, part) => sum + part.looks.length, 0);
    firstComponent += Math.max(...record.parts.map((part) => part.components.length));
    // Give a writer its turn between fleets.
    await Promise.resolve();
  }
}
