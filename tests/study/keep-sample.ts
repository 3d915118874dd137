/**
 * A few fleets of the published study as they were judged, kept beside it: a version whose numbers have moved since is not
 * the one that was studied, and a test finds that out.
 */
import { writeFileSync } from "node:fs";
import { KINDS } from "./kinds.ts";
import type { StudyLine } from "./study-fleet.ts";

export const SAMPLE = "tests/study/as-studied.jsonl";

/** The first fleet of each kind, and the first that was extended. */
export function keepSample(lines: readonly StudyLine[]): void {
  const sample = KINDS.flatMap((kind) => {
    const own = lines.filter((line) => line.kind === kind && !line.forPower);
    const extended = own.find(({ answer }) => answer === "extend");
    return own.slice(0, 1).concat(extended === undefined || extended === own[0] ? [] : extended);
  });
  writeFileSync(SAMPLE, `${sample.map((line) => JSON.stringify(line)).join("\n")}\n`);
}
