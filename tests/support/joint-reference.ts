/** The readings of tests/reference/data/wear-joint.csv: components that moved between three environments, two standards. */
import { readFileSync } from "node:fs";
import type { JointTable } from "../../src/wear/joint-table.ts";

const STANDARDS = ["plain", "shielded"];

export function readJointTable(): JointTable {
  const file = new URL("../reference/data/wear-joint.csv", import.meta.url);
  const cells = readFileSync(file, "utf8")
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(","));
  const numbers = (column: number) => Float64Array.from(cells, (row) => Number(row[column]));
  return {
    rows: cells.length,
    component: Int32Array.from(numbers(0)),
    aircraft: Int32Array.from(numbers(1)),
    standard: Int32Array.from(cells, (row) => STANDARDS.indexOf(row[2]!)),
    hoursIn: [numbers(3), numbers(4), numbers(5)],
    wearMm: numbers(6),
    environments: ["sandy", "coastal", "temperate"],
    standards: STANDARDS,
  };
}
