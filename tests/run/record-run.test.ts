import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ExportError, PublishError } from "../../src/problems.ts";
import { type Effects, fileEffects } from "../../src/run/effects.ts";
import { readManifest } from "../../src/run/manifest.ts";
import { type RecordRunOptions, recordRun } from "../../src/run/record-run.ts";
import type { ReplayStages } from "../../src/run/stages.ts";
import { dayFromIso } from "../../src/units.ts";
import { makeRecord } from "../support/make-record.ts";
import { makePlace, type Place, program, runAt, smallStages, writeExport } from "./make-run.ts";

/** Stands for the replay: a record of the exports there are, as far as a run looks into it. */
const replayStages: ReplayStages = {
  ...smallStages,
  renderFrontPage: (months, records) => [...months, ...records].map(({ folder }) => folder).join("\n"),
  monthThreads: () => ({ threads: [], close: async () => {} }),
  replayMonths: async ({ fleet, source, months, onMonth }) => {
    const read = await smallStages.runMonth({
      ...{ fleet, source, fleetText: "", asOf: dayFromIso("2026-02-28"), program: "" },
      onProblem: () => {},
    });
    onMonth?.(months, months);
    return { ...makeRecord(), month: "2026-02", inputs: read.inputs, monthsAsked: months };
  },
  renderRecord: async (record) => [
    { path: "record.html", text: `<p>${record.monthsAsked}</p>\n` },
    { path: "record.json", text: "{}\n" },
  ],
};

function replayAt(
  place: Place,
  over: Partial<RecordRunOptions> = {},
  effects: Effects = fileEffects,
  messages: string[] = [],
  stages = replayStages,
) {
  const { fleetFile, outFolder } = place;
  const asked = { fleetFile, outFolder, exportsFolder: null, asOf: null, keepInputs: false, program };
  return recordRun({ ...asked, months: 3, threads: 1, run: "test", ...over }, effects, stages, {
    say: (message) => messages.push(message),
    progress: (done, total, counting) => messages.push(`${done} of ${total} ${counting}`),
  });
}

describe("recordRun(options, effects, stages, watcher)", () => {
  it("publishes a record beside the months, linked from the front page, with a manifest that holds", async () => {
    const place = await makePlace();
    await runAt(place);
    const messages: string[] = [];
    const outcome = await replayAt(place, {}, fileEffects, messages);
    expect(outcome).toEqual({ kind: "published", folder: "record-2026-02" });
    expect(messages).toEqual(["3 of 3 months", "published record-2026-02"]);
    const folder = join(place.outFolder, outcome.folder);
    expect((await readdir(folder)).sort()).toEqual(["manifest.json", "record.html", "record.json"]);
    const reading = await readManifest(fileEffects, folder);
    expect(reading).toMatchObject({ kind: "read", manifest: { months_replayed: 3, month: "2026-02" } });
    const front = await readFile(join(place.outFolder, "index.html"), "utf8");
    expect(front).toContain("record-2026-02");
    expect((await readFile(join(place.outFolder, "latest"), "utf8")).trim()).toBe("2026-02");
    const log = (await readFile(join(place.outFolder, "log", "runs.jsonl"), "utf8")).trim().split("\n");
    expect(JSON.parse(log.at(-1)!)).toMatchObject({ outcome: "published", month: "record-2026-02" });
  });

  it("does nothing where it was made before, and is the next revision where anything differs", async () => {
    const place = await makePlace();
    await replayAt(place);
    const messages: string[] = [];
    expect(await replayAt(place, {}, fileEffects, messages)).toEqual({
      kind: "nothing to do",
      folder: "record-2026-02",
    });
    expect(messages.join()).toContain("nothing to do: record-2026-02 was made from the same inputs");
    expect((await replayAt(place, { months: 4 })).folder).toBe("record-2026-02.2");
    await writeExport(place, "2026-02", "Serial,Date,Hours,Wear\nA1,2026-02-11,640,0.11\n");
    expect((await replayAt(place)).folder).toBe("record-2026-02.3");
    expect(await readFile(join(place.outFolder, "record-2026-02", "record.html"), "utf8")).toBe("<p>3</p>\n");
    // A month's report takes no record for its own, nor the other way round.
    expect((await runAt(place)).folder).toBe("2026-02");
    expect((await replayAt(place)).kind).toBe("nothing to do");
  });

  it("makes a damaged record again", async () => {
    const place = await makePlace();
    await replayAt(place);
    await writeFile(join(place.outFolder, "record-2026-02", "record.html"), "spoilt");
    const messages: string[] = [];
    expect((await replayAt(place, {}, fileEffects, messages)).folder).toBe("record-2026-02.2");
    expect(messages.join()).toContain("record-2026-02 was damaged since it was published");
  });

  it("leaves nothing behind where the replay or the disk fails", async () => {
    const place = await makePlace();
    const failing = {
      ...replayStages,
      replayMonths: () => Promise.reject(new ExportError("E-NO-FILE", "expected months, found none")),
    };
    await expect(replayAt(place, {}, fileEffects, [], failing)).rejects.toThrow(ExportError);
    const full: Effects = {
      ...fileEffects,
      write: (path, content) =>
        path.endsWith("record.json")
          ? Promise.reject(Object.assign(new Error("no space"), { code: "ENOSPC" }))
          : fileEffects.write(path, content),
    };
    await expect(replayAt(place, {}, full)).rejects.toThrow(PublishError);
    expect((await readdir(place.outFolder)).filter((name) => name !== "log")).toEqual([]);
    expect((await replayAt(place)).kind).toBe("published");
  });
});
