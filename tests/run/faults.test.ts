/** Every step of a run broken in turn: by an error of the disk, and by a kill that leaves the step half done. */
import { rm } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PublishError } from "../../src/problems.ts";
import { fileEffects } from "../../src/run/effects.ts";
import { damageOf, readManifest } from "../../src/run/manifest.ts";
import { listMonthFolders } from "../../src/run/month-folders.ts";
import { type Fault, Killed, recordingEffects } from "../support/recording-effects.ts";
import { contentsOf, makePlace, type Place, runAt, writeExport } from "./make-run.ts";

const CORRECTED = "Serial,Date,Hours,Wear\nA1,2026-02-10,640,0.12\n";

// Syncing to disk is what makes these tests slow, and what they can't observe; a dead process never answers.
const quick = { ...fileEffects, isAlive: () => false, pause: async () => {} };

/** The next run is another process: what the first left behind bears a number that isn't its own. */
const laterProcess = { ...quick, pid: quick.pid + 1 };

/** A place with 2026-02 published, and a corrected export that makes the next run publish 2026-02.2. */
async function publishedPlace(): Promise<Place> {
  const place = await makePlace();
  await runAt(place, {}, quick);
  await writeExport(place, "2026-02", CORRECTED);
  return place;
}

async function stepsOfARun(): Promise<number> {
  const place = await publishedPlace();
  const recording = recordingEffects(quick, null);
  await runAt(place, {}, recording);
  await rm(place.root, { recursive: true });
  return recording.steps.length;
}

/** Asserts that every month's folder is whole and gives their names. */
async function wholeMonths(place: Place): Promise<string[]> {
  const names: string[] = [];
  for (const { folder } of await listMonthFolders(fileEffects, place.outFolder)) {
    const reading = await readManifest(fileEffects, join(place.outFolder, folder));
    if (reading.kind !== "read") throw new Error(`${folder} has no manifest that can be read`);
    expect(await damageOf(fileEffects, join(place.outFolder, folder), reading.manifest)).toEqual([]);
    names.push(folder);
  }
  return names;
}

async function breakAndMend(fault: Fault): Promise<"published" | "not published" | "no failure"> {
  const place = await publishedPlace();
  const before = await contentsOf(join(place.outFolder, "2026-02"));
  const recording = recordingEffects(quick, fault);
  const failure = await runAt(place, {}, recording).then(
    () => null,
    (error: unknown) => error,
  );
  // What a reader sees right after the fault.
  expect(await contentsOf(join(place.outFolder, "2026-02"))).toEqual(before);
  const afterFault = await wholeMonths(place);
  if (failure !== null) {
    if (fault.kind === "kill") expect(failure).toBeInstanceOf(Killed);
    else expect(failure, String(failure)).toBeInstanceOf(PublishError);
  }
  // The next run mends everything.
  await runAt(place, {}, laterProcess);
  expect(await wholeMonths(place)).toEqual(["2026-02", "2026-02.2"]);
  const contents = await contentsOf(place.outFolder);
  expect(contents.get("latest")).toBe("2026-02.2\n");
  expect(contents.get("index.html")).toContain("2026-02.2");
  expect([...contents.keys()].filter((path) => path.includes("tmp-") || path.startsWith(".lock"))).toEqual(
    [],
  );
  await rm(place.root, { recursive: true });
  return failure === null ? "no failure" : afterFault.length === 2 ? "published" : "not published";
}

describe("monthlyRun(options, effects, stages, say) under faults", () => {
  it("killed at any step: the last publication is whole, and the next run publishes", async () => {
    const steps = await stepsOfARun();
    const outcomes: string[] = [];
    for (let at = 1; at <= steps; at++) outcomes.push(await breakAndMend({ at, kind: "kill" }));
    expect(steps).toBeGreaterThan(20);
    expect(outcomes).toContain("not published");
    expect(outcomes).toContain("published");
  }, 120_000);

  it.each(["ENOSPC", "EACCES"])(
    "%s at any step: PublishError (exit 5) or no harm",
    async (code) => {
      const steps = await stepsOfARun();
      const outcomes: string[] = [];
      for (let at = 1; at <= steps; at++) outcomes.push(await breakAndMend({ at, kind: { code } }));
      expect(outcomes.filter((outcome) => outcome === "not published").length).toBeGreaterThan(10);
    },
    120_000,
  );
});
