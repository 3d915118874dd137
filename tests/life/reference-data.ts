/** The data of tests/reference as life tables, and the values that R gives for them. */
import { readFileSync } from "node:fs";
import { parseLifeTable } from "../../src/life/parse-life-table.ts";
import type { LifeTable } from "../../src/records/life-table.ts";
import reference from "../reference/life.json" with { type: "json" };

export { reference };

const folder = new URL("../reference/data/", import.meta.url);

export const dataText = (name: string): string => readFileSync(new URL(`${name}.csv`, folder), "utf8");

/** One group of a data set, or ("all") the whole of it. */
export function dataTable(name: string, group = "all"): LifeTable {
  const text = dataText(name);
  // A heading of no column groups nothing: the whole file is one group.
  const whole = group === "all" ? text.replace(/,group(\r?\n)/, ",ungrouped$1") : text;
  const parsed = parseLifeTable(whole, { file: name });
  const found = parsed.groups.find((each) => each.group === group);
  if (found === undefined || parsed.problems.length > 0) throw new Error(`no group ${group} in ${name}`);
  return found.table;
}

/** Relative difference. */
export const apart = (ours: number, theirs: number): number => Math.abs(ours - theirs) / Math.abs(theirs);
