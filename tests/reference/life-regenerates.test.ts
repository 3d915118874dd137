/** tests/reference/life.json is what generate/life.R makes today; skipped where R or its survival package isn't there. */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";

const root = new URL("../..", import.meta.url).pathname;
const program = "Rscript";
const probe = spawnSync(program, ["-e", "library(survival)"]);
const hasR = probe.error === undefined && probe.status === 0;

it.skipIf(!hasR)("generate/life.R makes life.json again, numbers to 1e-6", { timeout: 120_000 }, () => {
  const run = spawnSync(program, ["tests/reference/generate/life.R"], { cwd: root, encoding: "utf8" });
  expect(run.status).toBe(0);
  const again = JSON.parse(run.stdout);
  const kept = JSON.parse(readFileSync(`${root}/tests/reference/life.json`, "utf8"));
  // Another R may differ in its last digits, and says so in `software`.
  expect(differences({ ...kept, software: "" }, { ...again, software: "" }, "")).toEqual([]);
});

function differences(a: unknown, b: unknown, path: string): string[] {
  if (typeof a === "number" && typeof b === "number") {
    return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b), 1e-6) ? [] : [`${path}: ${a} ${b}`];
  }
  if (a === null || b === null || typeof a !== "object" || typeof b !== "object") {
    return a === b ? [] : [`${path}: ${a} ${b}`];
  }
  const [left, right] = [Object.entries(a), new Map(Object.entries(b))];
  if (left.length !== right.size) return [`${path}: other keys`];
  return left.flatMap(([key, value]) => differences(value, right.get(key), `${path}/${key}`));
}
