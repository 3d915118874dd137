/** A small fleet's wear exports, a file a month, for replays. */
import type { ExportSource } from "../../src/ingest/source.ts";
import { seededRandom } from "../../src/math/random.ts";
import { isoDate, isoMonth } from "../../src/units.ts";
import { SMALL_FLEET_YAML } from "./fleet-yaml.ts";
import { dayOfText } from "./make-exports.ts";

/** Columns of the wear exports. */
export const HEADING = "Serial,Inspected,Hours,Wear,Tail,Base,Ring";
/** A fleet file whose wear exports say in their names when they were exported. */
export const DATED = SMALL_FLEET_YAML.replace(
  "files: wear.csv",
  'files: wear-*.csv\n    exported: { from: name, pattern: "wear-{yyyy}-{MM}.csv" }',
);

interface Row {
  readonly day: number;
  readonly text: string;
}

/** 24 components on 8 aircraft, looked at every 300 h or so from new, replaced at 0.50 mm and followed by the next. */
export function wearRows(): Row[] {
  const random = seededRandom(11);
  const rows: Row[] = [];
  for (let place = 0; place < 24; place++) {
    let day = dayOfText("2023-01-01") + Math.round(120 * random.uniform());
    for (let serial = 0; day < dayOfText("2025-12-31"); serial++) {
      const rate = 0.35 * Math.exp(0.25 * random.normal());
      for (let hours = 0, wear = 0; wear < 0.5; ) {
        const flown = 300 * (1 + 0.08 * random.uniform());
        hours += flown;
        day += Math.round(flown / 3);
        if (day > dayOfText("2025-12-31")) break;
        wear = Math.max(0, 0.02 + (rate * hours) / 1000 + 0.01 * random.normal());
        const text = `P${place}-${serial},${isoDate(day)},${hours.toFixed(1)},${wear.toFixed(3)},A${place % 8},Valley,P`;
        rows.push({ day, text });
      }
    }
  }
  return rows;
}

/** Rows as the files of the months they are dated in. */
export function monthlyFiles(rows: readonly Row[]): Map<string, string> {
  const files = new Map<string, string>();
  for (const { day, text } of [...rows].sort((a, b) => a.day - b.day)) {
    const path = `wear-${isoMonth(day)}.csv`;
    files.set(path, `${files.get(path) ?? `${HEADING}\n`}${text}\n`);
  }
  return files;
}

/** Files as a source. */
export const memory = (files: ReadonlyMap<string, string>): ExportSource => ({
  list: async () => [...files.keys()].sort(),
  async *open(path) {
    yield new TextEncoder().encode(files.get(path));
  },
});
