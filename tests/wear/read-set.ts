import { readFileSync } from "node:fs";
import type { WearTable } from "../../src/records/wear-table.ts";

/** A wear table from rows of [component, hours, mm]. */
export function wearTable(rows: readonly (readonly [string | number, number, number])[]): WearTable {
  const numbers = new Map<string | number, number>();
  for (const [name] of rows) if (!numbers.has(name)) numbers.set(name, numbers.size);
  return {
    rows: rows.length,
    components: numbers.size,
    component: Int32Array.from(rows, ([name]) => numbers.get(name)!),
    hours: Float64Array.from(rows, ([, hours]) => hours),
    wearMm: Float64Array.from(rows, ([, , wear]) => wear),
  };
}

/** One of the reference sets, tests/reference/data/NAME.csv. */
export function readSet(name: string): WearTable {
  const text = readFileSync(new URL(`../reference/data/${name}.csv`, import.meta.url), "utf8");
  const lines = text.trim().split("\n").slice(1);
  return wearTable(
    lines.map((line) => {
      const [component, hours, wear] = line.split(",");
      return [component!, Number(hours), Number(wear)] as const;
    }),
  );
}
