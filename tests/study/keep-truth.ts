/** Adds the true risks that a run found out to those kept beside the study, each once, in order. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { TRUTH } from "./run-jobs.ts";

export function keepTruth(folder: string): void {
  const files = readdirSync(folder).filter((name) => name.startsWith("truth-"));
  const lines = [TRUTH, ...files.map((name) => join(folder, name))].flatMap((path) =>
    readFileSync(path, "utf8").split("\n"),
  );
  const kept = [...new Set(lines.filter((line) => line !== ""))].sort((a, b) => (a < b ? -1 : 1));
  writeFileSync(TRUTH, `${kept.join("\n")}\n`);
}
