import { readFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { TruthBook } from "./cells.ts";
import { SAMPLE } from "./keep-sample.ts";
import { KINDS } from "./kinds.ts";
import { TRUTH } from "./run-jobs.ts";
import { type StudyLine, studyFleet } from "./study-fleet.ts";

/** Beyond the third digit a version is not the one that was studied. */
const SAME = 5e-4;

const studied = readFileSync(SAMPLE, "utf8")
  .trimEnd()
  .split("\n")
  .map((line) => JSON.parse(line) as StudyLine);

const expectSame = (now: number | null, then: number | null): void => {
  if (then === null || now === null) expect(now).toBe(then);
  else expect(Math.abs(now / then - 1)).toBeLessThan(SAME);
};

describe("this version beside the one whose study is published", () => {
  it("keeps fleets of every kind to compare", () => {
    expect(new Set(studied.map(({ kind }) => kind))).toEqual(new Set(KINDS));
    expect(studied.some(({ answer }) => answer === "extend")).toBe(true);
  });

  it("judges them as it did: answers, rules, and bounds to the third digit (else run the study again)", async () => {
    const folder = await mkdtemp(join(tmpdir(), "rotorwear-as-studied-"));
    const truth = new TruthBook(TRUTH, join(folder, "truth.jsonl"));
    for (const { bounds, ...then } of studied) {
      const { bounds: boundsNow, ...now } = await studyFleet(then, truth);
      expect(now).toEqual(then);
      expectSame(boundsNow.life, bounds.life);
      expectSame(boundsNow.wear, bounds.wear);
      expectSame(boundsNow.unsafe, bounds.unsafe);
    }
    await rm(folder, { recursive: true });
  });
});
