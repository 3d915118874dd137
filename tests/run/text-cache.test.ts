/** What was read is kept beside the output, used by the next run, and never a reason for another result. */
import { mkdir, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { ExportSource } from "../../src/ingest/source.ts";
import { runMonth } from "../../src/pipeline.ts";
import { type Effects, fileEffects } from "../../src/run/effects.ts";
import type { MonthlyRunOptions } from "../../src/run/output-folder.ts";
import type { Stages } from "../../src/run/stages.ts";
import { contentsOf, makePlace, type Place, runAt, smallStages, writeExport } from "./make-run.ts";

const FEBRUARY = "2026-02";

/** The real pipeline's rows; the files that it opens are listed. */
function stagesListing(opened: string[]): Stages {
  const exportFolder = (root: string): ExportSource => {
    const source = smallStages.exportFolder(root);
    return {
      list: source.list,
      open: (path) => {
        opened.push(path);
        return source.open(path);
      },
    };
  };
  const renderMonth: Stages["renderMonth"] = async (month) => {
    const { inputs, problems, exclusions, actNow, serials } = month;
    const shown = JSON.stringify({ inputs, problems, exclusions, actNow, serials });
    return [{ path: "shown.json", text: shown }, ...(await smallStages.renderMonth(month))];
  };
  return { ...smallStages, exportFolder, runMonth, renderMonth };
}

interface Ran {
  readonly published: Map<string, string>;
  /** How often each export was opened: once to be hashed, once to be copied, and once more where it was read. */
  readonly opened: Record<string, number>;
  readonly messages: readonly string[];
}

async function run(
  place: Place,
  options: Partial<MonthlyRunOptions> = {},
  effects: Effects = fileEffects,
): Promise<Ran> {
  const opened: string[] = [];
  const messages: string[] = [];
  const { folder } = await runAt(
    place,
    { keepInputs: false, ...options },
    effects,
    messages,
    stagesListing(opened),
  );
  const published = await contentsOf(join(place.outFolder, folder));
  published.delete("manifest.json");
  published.delete("index.html");
  published.delete("run.json");
  const counts: Record<string, number> = {};
  for (const path of opened) counts[path] = (counts[path] ?? 0) + 1;
  return { published, opened: counts, messages };
}

/** The month made anew in another folder, without anything kept. */
async function madeAnew(place: Place): Promise<Map<string, string>> {
  const outFolder = join(place.root, "anew");
  await rm(outFolder, { recursive: true, force: true });
  return (await run({ ...place, outFolder }, { cache: false })).published;
}

const cacheOf = (place: Place): string => join(place.outFolder, "cache");
const HASHED = 1;
const READ = 2;
const JANUARY_FILE = "exports/wear-2026-01.csv";
const FEBRUARY_FILE = "exports/wear-2026-02.csv";

describe("monthlyRun(options, effects, stages, say) with what was kept", () => {
  it("reads only the new export, and publishes what a run without anything kept publishes", async () => {
    const place = await makePlace();
    expect((await run(place)).opened).toEqual({ [JANUARY_FILE]: READ, [FEBRUARY_FILE]: READ });
    await writeExport(place, FEBRUARY, "Serial,Date,Hours,Wear\nA1,2026-02-12,640,0.13\nA3,x,1,1\n");
    const second = await run(place);
    expect(second.opened).toEqual({ [JANUARY_FILE]: HASHED, [FEBRUARY_FILE]: READ });
    expect(second.published).toEqual(await madeAnew(place));
    expect(second.published.get("rejected.csv")).toContain("exports/wear-2026-02.csv,3");
    // What was kept of the export that is gone now is gone as well.
    expect(await readdir(cacheOf(place))).toHaveLength(2);
  });

  it("--no-cache: keeps nothing and uses nothing", async () => {
    const place = await makePlace();
    await run(place, { cache: false });
    await writeExport(place, FEBRUARY, "Serial,Date,Hours,Wear\nA1,2026-02-12,640,0.13\n");
    expect((await run(place, { cache: false })).opened[JANUARY_FILE]).toBe(READ);
    expect(await readdir(place.outFolder)).not.toContain("cache");
  });

  it("reads again what stands there damaged, or under a name that isn't its own, and mends it", async () => {
    const place = await makePlace();
    await run(place);
    const names = await readdir(cacheOf(place));
    const [first, second] = names.map((name) => join(cacheOf(place), name));
    const whole = await readFile(first!);
    // One file cut off; the other one's content, whole in itself, under its name.
    await writeFile(second!, whole);
    await writeFile(first!, whole.subarray(0, whole.length - 9));
    await writeExport(place, "2026-03", "Serial,Date,Hours,Wear\nA1,2026-03-12,700,0.14\n");
    const again = await run(place);
    expect(again.opened).toEqual({
      [JANUARY_FILE]: READ,
      [FEBRUARY_FILE]: READ,
      "exports/wear-2026-03.csv": READ,
    });
    expect(again.messages.filter((message) => message.includes("is damaged"))).toHaveLength(2);
    expect(again.published).toEqual(await madeAnew(place));
    expect(await readFile(first!)).toEqual(whole);
  });

  it("reads again where a setting that reading depends on is another", async () => {
    const place = await makePlace();
    await run(place);
    const fleet = await readFile(place.fleetFile, "utf8");
    await writeFile(place.fleetFile, fleet.replace("unit: mm", "unit: in"));
    const again = await run(place);
    expect(again.opened[JANUARY_FILE]).toBe(READ);
    expect(again.published).toEqual(await madeAnew(place));
    await writeFile(place.fleetFile, fleet.replace("unit: mm", "unit: in").replace("0.50 mm", "0.60 mm"));
    expect((await run(place)).opened[JANUARY_FILE]).toBe(HASHED);
  });

  it("publishes all the same where nothing can be kept, and says it once", async () => {
    const place = await makePlace();
    const full: Effects = {
      ...fileEffects,
      write: (path, content) =>
        path.includes("/cache/")
          ? Promise.reject(Object.assign(new Error("full"), { code: "ENOSPC" }))
          : fileEffects.write(path, content),
    };
    const { published, messages } = await run(place, {}, full);
    expect(published).toEqual(await madeAnew(place));
    expect(messages.filter((message) => message.includes("can't be kept for the next run"))).toHaveLength(1);
  });

  it("follows no link out of the output folder", async () => {
    const place = await makePlace();
    const elsewhere = join(place.root, "elsewhere");
    await mkdir(elsewhere);
    await mkdir(place.outFolder);
    await symlink(elsewhere, cacheOf(place));
    const { messages } = await run(place);
    expect(await readdir(elsewhere)).toEqual([]);
    expect(messages.join("\n")).toMatch(/cache is a link, not a folder: what is read is not kept/);
  });
});
