/** The built program killed at 200 random moments; 20 of them run with the other tests. */
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { killRuns } from "../support/kill-runs.ts";
import { runCli } from "../support/run-cli.ts";
import { smallFleet } from "../support/small-fleet.ts";

it("rotorwear report killed at 200 random moments: every published month is whole, and the next run works", async () => {
  const fleet = await smallFleet({ aircraft: ["SH-101", "SH-102"], files: /-2026-0[89]\.csv$/ });
  const out = join(fleet, "killed");
  await mkdir(out);
  const start = performance.now();
  expect(
    (await runCli(["report", join(fleet, "fleet.yaml"), "--out", join(fleet, "undisturbed")])).code,
  ).toBe(0);
  const usualMs = performance.now() - start;
  const tally = await killRuns(fleet, out, 200, usualMs, 200);
  console.log(tally);
  expect(tally.damage).toEqual([]);
  expect(tally.kills).toBe(200);
  expect((await runCli(["report", join(fleet, "fleet.yaml"), "--out", out, "--no-keep-inputs"])).code).toBe(
    0,
  );
});
