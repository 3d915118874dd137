import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { noneTaken } from "../../src/interval/turns.ts";
import { ExportError, RotorwearError } from "../../src/problems.ts";
import type { MonthThread } from "../../src/replay-month.ts";
import { replayMonths } from "../../src/replay-months.ts";
import { startMonthThreads } from "../../src/run/month-threads.ts";
import { DATED, monthlyFiles, wearRows } from "../support/dated-exports.ts";
import { dayOfText } from "../support/make-exports.ts";

const script = pathToFileURL(fileURLToPath(new URL("../../dist/run/month-worker.js", import.meta.url)));
const fleet = readFleet(DATED, "fleet.yaml");
let folder = "";

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "rotorwear-months-"));
  for (const [path, text] of monthlyFiles(wearRows())) await writeFile(join(folder, path), text);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const options = (onMonth?: (done: number, of: number) => void) => ({
  ...{ fleet, fleetText: DATED, asOf: dayOfText("2025-12-31"), months: 4, program: "rotorwear test" },
  source: exportFolder(folder),
  ...(onMonth && { onMonth }),
});

describe("startMonthThreads(count, script, exportsFolder)", () => {
  it("says of past months what this thread says, and counts them all", async () => {
    const alone = await replayMonths(options());
    const others = startMonthThreads(1, script, folder);
    const [thread] = others.threads;
    let theirs = 0;
    let taken = noneTaken();
    const counted: MonthThread = {
      takeMonths: async (months) => {
        taken = months.taken;
        const outcomes = await thread!.takeMonths(months);
        theirs = outcomes.length;
        return outcomes;
      },
    };
    try {
      const told: [number, number][] = [];
      const source = exportFolder(folder);
      // Lists what there is only when the other thread has taken a month as well.
      const slow = {
        ...source,
        list: async (patterns: readonly string[]) => {
          while (Atomics.load(taken, 0) === 1) await new Promise((resolve) => setTimeout(resolve, 10));
          return source.list(patterns);
        },
      };
      const record = await replayMonths({
        ...options((done, of) => told.push([done, of])),
        source: slow,
        monthThreads: [counted],
      });
      expect(record).toEqual(alone);
      expect(theirs).toBeGreaterThan(0);
      expect(told.at(-1)).toEqual([4, 4]);
    } finally {
      await others.close();
    }
  });

  it("fails as this thread would: with an error that a person can mend, and its code", async () => {
    const others = startMonthThreads(1, script, join(folder, "nowhere"));
    try {
      const whole = { asOf: dayOfText("2025-12-31"), lives: [], serials: [] };
      const days = [dayOfText("2025-11-30")];
      const failed = others.threads[0]!.takeMonths({
        ...{ fleet, whole, days, taken: noneTaken(), done: noneTaken() },
      });
      await expect(failed).rejects.toThrow(RotorwearError);
      await expect(failed).rejects.toMatchObject({
        code: "E-NO-FILE",
        exitCode: new ExportError("E-NO-FILE", "").exitCode,
        message: expect.stringMatching(
          /nowhere: expected the folder of the exports, found none \[E-NO-FILE\]$/,
        ),
      });
    } finally {
      await others.close();
    }
  });
});
