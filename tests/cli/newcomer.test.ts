import { mkdtemp, readFile, rename, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { isoDate } from "../../src/units.ts";
import { dayOfText } from "../support/make-exports.ts";
import { runCli } from "../support/run-cli.ts";

/** 2024-01-31 as 01/31/2024. */
const monthFirst = (day: number): string => isoDate(day).replace(/^(\d+)-(\d+)-(\d+)$/, "$2/$3/$1");

/** Exports of another house: its own headings, a preamble, semicolons, inches, the month first. */
function otherExports(): { wear: string; removals: string } {
  const random = seededRandom(4);
  const wear = [
    "Bearing play register;printed weekly",
    "",
    "S/N;P/N;Insp date;TSN;Play [in];Registration;Arm;Location;Seal type;Inspector",
  ];
  const removals = ["S/N;Date off;TSN at removal;Why;Found at;Registration;Arm"];
  let serial = 1000;
  for (let aircraft = 0; aircraft < 8; aircraft++) {
    for (const arm of ["1", "2", "3", "4"]) {
      let day = dayOfText("2023-01-05")! + Math.round(120 * random.uniform());
      const medianRate = aircraft % 2 === 0 ? 0.3 : 0.09;
      let rate = medianRate * Math.exp(0.25 * random.normal());
      let hours = 0;
      serial++;
      for (;;) {
        const flown = 250 * (1 + 0.08 * random.uniform());
        day += Math.round(0.6 * flown);
        hours += flown;
        if (day > dayOfText("2026-05-15")!) break;
        const wearMm = Math.max(0, 0.02 + (rate * hours) / 1000 + 0.008 * random.normal());
        const where = `R${21 + aircraft};${arm}`;
        const place = aircraft % 2 === 0 ? "Dune" : "Harbour";
        wear.push(
          `00${serial};BRG-7;${monthFirst(day)};${hours.toFixed(1)};${(wearMm / 25.4).toFixed(4)};${where};${place};OLD;JB`,
        );
        if (wearMm < 0.5) continue;
        removals.push(`00${serial};${monthFirst(day)};${hours.toFixed(1)};WORN OUT;AT INSP;${where}`);
        rate = medianRate * Math.exp(0.25 * random.normal());
        hours = 0;
        serial++;
      }
    }
  }
  return { wear: `${wear.join("\n")}\n`, removals: `${removals.join("\n")}\n` };
}

describe("a newcomer with exports of another shape", { timeout: 300_000 }, () => {
  it("has a published month after init and two values filled in", async () => {
    const folder = await mkdtemp(join(tmpdir(), "rotorwear-newcomer-"));
    const { wear, removals } = otherExports();
    await writeFile(join(folder, "brg_play_2026-05.csv"), wear);
    await writeFile(join(folder, "brg_off_2026-05.csv"), removals);
    const fleet = join(folder, "fleet.yaml");
    expect((await runCli(["init", folder])).code).toBe(0);
    const started = await readFile(fleet, "utf8");
    expect(started.match(/FILL IN(?= {3}#)/g)).toHaveLength(2);
    await writeFile(
      fleet,
      started
        .replace("replace_at: FILL IN", "replace_at: 0.50 mm")
        .replace("interval: FILL IN", "interval: 250 h"),
    );

    const check = await runCli(["check", fleet]);
    expect(check.code).toBe(0);
    expect(check.stdout).toContain('unit in: the heading "Play [in]" says so');
    expect(check.stdout).toMatch(/date order month first/);
    expect(check.stdout).not.toMatch(/Problems|doesn't know/);

    const out = join(folder, "reports");
    const report = await runCli(["report", fleet, "--out", out]);
    expect(report.code).toBe(0);
    expect(report.stdout).toMatch(/dune, OLD: Shorten 250 h/);

    // What was published is full of CSVs, and none of them is an export.
    await rename(fleet, join(folder, "first.yaml"));
    expect((await runCli(["init", folder])).code).toBe(0);
    expect(await readFile(fleet, "utf8")).toBe(started);
  });
});
