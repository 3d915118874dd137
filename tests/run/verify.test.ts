import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { fileEffects } from "../../src/run/effects.ts";
import { firstDifferentLine, verifyMonth } from "../../src/run/verify.ts";
import { dayFromIso } from "../../src/units.ts";
import { makePlace, type Place, program, runAt, smallStages } from "./make-run.ts";

const verify = (path: string, stages = smallStages) => verifyMonth(fileEffects, stages, program, path);

async function publishedTwice(): Promise<Place> {
  const place = await makePlace();
  await runAt(place, { asOf: dayFromIso("2026-01-31") });
  await runAt(place);
  return place;
}

describe("verifyMonth(effects, stages, program, path)", () => {
  it("finds a month the same from its kept inputs, with exports, fleet file and last month's report gone", async () => {
    const place = await publishedTwice();
    await rm(join(place.root, "exports"), { recursive: true });
    await rm(place.fleetFile);
    await rm(join(place.outFolder, "2026-01"), { recursive: true });
    expect(await verify(join(place.outFolder, "2026-02"))).toMatchObject({
      kind: "same",
      files: 5,
      remarks: [],
    });
  });

  it("takes an output folder for its latest month", async () => {
    const place = await publishedTwice();
    expect(await verify(place.outFolder)).toMatchObject({
      kind: "same",
      folder: join(place.outFolder, "2026-02"),
    });
  });

  it("compares what --keep left of a month, says so, and takes one page that is gone for damage", async () => {
    const place = await publishedTwice();
    await runAt(place, { keepMonths: 1 });
    const folder = join(place.outFolder, "2026-01");
    const left = await verify(folder);
    expect(left).toMatchObject({ kind: "same", files: 2 });
    expect(left.remarks.join()).toContain("its pages were removed (--keep)");
    await writeFile(join(folder, "digest.txt"), "all is well\n");
    expect(await verify(folder)).toMatchObject({ kind: "different" });
    await rm(join(place.outFolder, "2026-02", "index.html"));
    expect(await verify(place.outFolder)).toMatchObject({
      kind: "different",
      first: "index.html is missing since it was published",
    });
  });

  it("names a file that was changed after publication", async () => {
    const place = await publishedTwice();
    await writeFile(join(place.outFolder, "2026-02", "run.json"), "{}");
    expect(await verify(place.outFolder)).toMatchObject({
      kind: "different",
      first: "run.json was changed since it was published",
    });
  });

  it("names file, line and column of the first byte that comes out otherwise", async () => {
    const place = await publishedTwice();
    const other: typeof smallStages = {
      ...smallStages,
      renderMonth: async (month) =>
        (await smallStages.renderMonth(month)).map((file) =>
          file.path === "digest.txt" ? { ...file, text: file.text.replace("2 exports", "3 exports") } : file,
        ),
    };
    expect(await verify(place.outFolder, other)).toMatchObject({
      kind: "different",
      first: 'digest.txt:2:1 published "2 exports\\n", recomputed "3 exports\\n"',
    });
  });

  it("refuses a month whose inputs were not kept, and one whose kept input is damaged", async () => {
    const place = await makePlace();
    await runAt(place, { keepInputs: false });
    await expect(verify(place.outFolder)).rejects.toThrow(/fleet.yaml of this month was not kept/);
    const kept = await publishedTwice();
    const manifest = JSON.parse(await readFile(join(kept.outFolder, "2026-02", "manifest.json"), "utf8"));
    await writeFile(join(kept.outFolder, "inputs", manifest.inputs[1].sha256), "other");
    await expect(verify(kept.outFolder)).rejects.toThrow(/wear-2026-02.csv\) is damaged/);
  });

  it("refuses a folder that holds no publication", async () => {
    const place = await makePlace();
    await expect(verify(place.root)).rejects.toThrow(/expected a published month/);
  });
});

describe("firstDifferentLine(published, recomputed)", () => {
  const bytes = (text: string) => Buffer.from(text);
  it("gives null for equal contents, and line and byte column otherwise", () => {
    expect(firstDifferentLine(bytes("a\nb"), bytes("a\nb"))).toBeNull();
    expect(firstDifferentLine(bytes("a\nbc"), bytes("a\nbd"))).toBe('2:2 published "c", recomputed "d"');
    expect(firstDifferentLine(bytes("a"), bytes("a\n"))).toBe('1:2 published "", recomputed "\\n"');
  });
});
