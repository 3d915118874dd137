/** R's values for trends, and the recurrent events they are about (tests/reference/generate/trend.R). */
import { readFileSync } from "node:fs";
import type { ObservedUnit } from "../../src/trend/mean-cumulative.ts";

interface TrendReference {
  readonly poisson: { readonly counts: number[]; readonly lower95: number[]; readonly upper95: number[] };
  readonly limitCount: { readonly means: number[]; readonly p95: number[]; readonly p99: number[] };
  readonly meanCumulative: readonly {
    readonly set: string;
    readonly hours: number[];
    readonly mean: number[];
    readonly standardError: number[];
  }[];
}

const file = (path: string): string => readFileSync(new URL(`../reference/${path}`, import.meta.url), "utf8");

export const trendReference: TrendReference = JSON.parse(file("trend.json"));

/** Units of a file of events (status 1) and ends of observation (status 0). */
export function readUnits(name: string): ObservedUnit[] {
  const rows = file(`data/${name}.csv`)
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(",").map(Number));
  return [...new Set(rows.map(([id]) => id!))].map((id) => {
    const own = rows.filter((row) => row[0] === id);
    return {
      entryHours: own[0]![1]!,
      endHours: own.find((row) => row[3] === 0)![2]!,
      eventHours: own.filter((row) => row[3] === 1).map((row) => row[2]!),
    };
  });
}
