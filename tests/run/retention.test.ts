import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { fileEffects } from "../../src/run/effects.ts";
import { planThinning } from "../../src/run/retention.ts";
import { dayFromIso } from "../../src/units.ts";
import { makePlace, runAt } from "./make-run.ts";

const MONTH_ENDS = ["2025-10-31", "2025-11-30", "2025-12-31"];

describe("planThinning(effects, outFolder, keepMonths)", () => {
  it("lists the oldest months' files but run.json, digest and manifest; running with --keep removes just those", async () => {
    const place = await makePlace();
    for (const day of MONTH_ENDS) await runAt(place, { asOf: dayFromIso(day) });
    const removed = ["data/lives.csv", "index.html", "rejected.csv"];
    expect(await planThinning(fileEffects, place.outFolder, 2)).toEqual([
      { folder: "2025-10", files: removed },
    ]);
    expect(await planThinning(fileEffects, place.outFolder, 36)).toEqual([]);
    const messages: string[] = [];
    await runAt(place, { keepMonths: 2 }, undefined, messages);
    expect(messages.join("\n")).toContain("removed 3 files of 2025-11 (--keep); its run.json stays");
    for (const folder of ["2025-10", "2025-11"]) {
      const left = (await readdir(join(place.outFolder, folder))).filter((name) => name !== "data");
      expect(left.sort()).toEqual(["digest.txt", "manifest.json", "run.json"]);
    }
    expect(await readdir(join(place.outFolder, "2025-12"))).toContain("index.html");
  });

  it("leaves what the next month compares with, and makes a thinned month again when asked for", async () => {
    const place = await makePlace();
    for (const day of MONTH_ENDS) await runAt(place, { asOf: dayFromIso(day), keepMonths: 1 });
    const messages: string[] = [];
    const outcome = await runAt(place, { asOf: dayFromIso("2025-11-30") }, undefined, messages);
    expect(outcome).toMatchObject({ kind: "published", folder: "2025-11.2" });
    expect(messages.join("\n")).toContain("has no pages any more; it is made again");
    expect(messages.join("\n")).not.toContain("can't be compared with");
  });

  it("never removes the pages of the month that was just asked for, however old it is", async () => {
    const place = await makePlace();
    for (const day of MONTH_ENDS) await runAt(place, { asOf: dayFromIso(day) });
    await runAt(place, { asOf: dayFromIso("2025-10-31"), keepMonths: 1 });
    expect(await readdir(join(place.outFolder, "2025-10"))).toContain("index.html");
    expect(await readdir(join(place.outFolder, "2025-11"))).not.toContain("index.html");
  });
});
