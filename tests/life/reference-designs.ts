/** The reference data that aren't life tables: designs of regressions, and lives with two competing modes. */
import { parse } from "csv-parse/sync";
import type { ModeLife } from "../../src/life/cumulative-incidence.ts";
import { dataText } from "./reference-data.ts";

/** Design columns of a data set, by the formula that R was given. */
export function regressionDesign(data: string): number[][] {
  const rows: Record<string, string>[] = parse(dataText(data), { columns: true });
  const by: Record<string, (row: Record<string, string>) => number[]> = {
    leukaemia: (row) => [row.group === "control" ? 1 : 0],
    cosmesis: (row) => [row.group === "both" ? 1 : 0],
    "motor-insulation": (row) => [Number(row.celsius)],
    lung: (row) => [Number(row.age), Number(row.sex), Number(row.ecog)],
    "three-temperatures": (row) => [row.group === "105" ? 1 : 0, row.group === "125" ? 1 : 0],
  };
  return rows.map((row) => [1, ...by[data]!(row)]);
}

/** mgus2 of R's survival: progression or death, whichever came first. */
export function incidenceLives(): ModeLife[] {
  const rows: Record<string, string>[] = parse(dataText("mgus2"), { columns: true });
  return rows.map(({ months, event }) => ({
    // Events at 0 months: just after.
    entryHours: -1,
    hours: Number(months),
    mode: event === "0" ? null : event === "1" ? "pcm" : "death",
  }));
}
