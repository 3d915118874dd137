import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { TruthBook } from "./cells.ts";
import { TRUTH } from "./run-jobs.ts";
import { studyFleet } from "./study-fleet.ts";

// Once the search for a mixture ran off to where a chance of being met late has no digits, and took it for a maximum: bounds of
// 43 and 47 times the truth, and a shorter interval for fleets that wear slowly (213, 300).
it.each([213])("two parts of one kind of rates are not found in gentle fleet %i", async (seed) => {
  const folder = await mkdtemp(join(tmpdir(), "rotorwear-mixture-"));
  const truth = new TruthBook(TRUTH, join(folder, "truth.jsonl"));
  const { answer, bounds } = await studyFleet({ kind: "gentle", seed, forPower: true }, truth);
  expect(bounds.wear).toBeLessThan(3);
  expect(answer).not.toBe("shorten");
  await rm(folder, { recursive: true });
});
