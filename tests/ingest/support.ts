/** Small fleets and exports in memory for the tests of reading. */
import type { Fleet } from "../../src/fleet/fleet.ts";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { readExports } from "../../src/ingest/read-exports.ts";
import type { ExportSource } from "../../src/ingest/source.ts";
import type { RowProblem } from "../../src/problems.ts";
import type { ReadExports } from "../../src/records/exports.ts";

/** What every small fleet has beside its exports. */
const COMMON = `
environments: { Saltpan: sandy, Saltpan South: sandy, Highland: temperate }
standards: { S: shielded, P: plain }
gap_states: { F: found, L: left }
found_at: { INSP: inspection, SVC: service }
findings: { CONF: confirmed, NFF: no fault found }
wear_words: { SAT: below limit, US: over limit }
causes:
  wear: [WORN]
  seal: [SEAL LEAK]
  not a failure: [CONVENIENCE, TIME EXPIRED]
parts:
  - { part: grip bearing, part_numbers: [GB-1, GB-3], replace_at: 0.50 mm }
tasks:
  - { task: wear check, part: grip bearing, basis: programme, interval: 600 h }
acceptable: { confidence: 0.95 }
`;

const fleets = new Map<string, Fleet>();

/** A fleet with one part from the `exports:` of a fleet file. */
export function smallFleet(exportsYaml: string): Fleet {
  const fleet =
    fleets.get(exportsYaml) ??
    readFleet(`fleet: A small invented fleet\n${exportsYaml}${COMMON}`, "fleet.yaml");
  fleets.set(exportsYaml, fleet);
  return fleet;
}

/** The exports block of a plain wear export. @param more  further lines of it, indented by four */
export const wearYaml = (more = "    unit: mm\n"): string =>
  `exports:\n  wear:\n    files: wear.csv\n    clock: since new\n    columns: { component: Serial, date: Date, hours: Hours, wear: Wear }\n${more}`;

/** Files in memory. @param chunkBytes  how many bytes come at a time */
export function memorySource(
  files: Readonly<Record<string, string | Uint8Array>>,
  chunkBytes = 1 << 20,
): ExportSource {
  return {
    list: async (patterns) => patterns.filter((pattern) => files[pattern] !== undefined),
    async *open(path) {
      const content = files[path]!;
      const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : content;
      for (let at = 0; at < bytes.length; at += chunkBytes) yield bytes.subarray(at, at + chunkBytes);
    },
  };
}

export interface Reading {
  readonly exports: ReadExports;
  readonly problems: readonly RowProblem[];
}

/** Reads exports and keeps the problems. */
export async function read(fleet: Fleet, source: ExportSource): Promise<Reading> {
  const problems: RowProblem[] = [];
  const exports = await readExports(fleet, source, (problem) => {
    problems.push(problem);
  });
  return { exports, problems };
}

/** Reads one wear export given as text or bytes. */
export const readWear = (
  content: string | Uint8Array,
  more?: string,
  chunkBytes?: number,
): Promise<Reading> => read(smallFleet(wearYaml(more)), memorySource({ "wear.csv": content }, chunkBytes));
