/** `rotorwear check` on exports of a few rows: what a person reads, and the exit codes. */
import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runCli } from "../support/run-cli.ts";

const EXPORTS_AND_LIMITS = `fleet: Test fleet
exports:
  wear:
    files: wear.csv
    unit: mm
    clock: airframe
    columns: { component: Serial, date: Date, hours: Hours, wear: Wear, aircraft: Tail, environment: Base }
  removals:
    files: removals.csv
    columns: { component: Serial, date: Date, hours: Hours, cause: Cause, aircraft: Tail }
  installed:
    files: installed.csv
    columns: { component: Serial, installed_on: Date, hours_at_installation: Hours, aircraft: Tail }
environments: { Dune: sandy }
causes: { wear: WORN, not a failure: [CONVENIENCE] }
parts:
  - { part: grip bearing, replace_at: 0.50 mm }
tasks:
  - { task: wear check, part: grip bearing, basis: programme, reference: R1, interval: 600 h }
`;
/** Fitted twice: 300 h on one airframe, then 250 h on another. B has no fitting; one row is refused, one word unknown (in a row after the month). */
const FILES = {
  "wear.csv": `Serial,Date,Hours,Wear,Tail,Base
S,2023-06-01,5200,0.10,A1,Dune
S,2024-06-01,9250,0.22,A2,Dune
B,2024-06-01,9250,0.11,A2,Dune
S,2024-13-01,9250,0.22,A2,Dune
S,2024-07-01,9280,0.22,A2,DUNES
`,
  "removals.csv": "Serial,Date,Hours,Cause,Tail\nS,2023-10-01,5300,CONVENIENCE,A1\n",
  "installed.csv": "Serial,Date,Hours,Tail\nS,2023-01-01,5000,A1\nS,2024-01-01,9000,A2\n",
};

async function folderOf(files: Readonly<Record<string, string>>): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "rotorwear-check-"));
  for (const [name, text] of Object.entries({ "fleet.yaml": EXPORTS_AND_LIMITS, ...files }))
    await writeFile(join(folder, name), text);
  return join(folder, "fleet.yaml");
}

describe("rotorwear check", () => {
  it("shows rows, refusals, remarks, words, formats and joins; a component fitted twice goes on", async () => {
    const fleet = await folderOf(FILES);
    const { code, stdout } = await runCli(["check", fleet]);
    expect(code).toBe(0);
    expect(stdout).toMatch(/^ +wear +1 +5 +4 +1 +0 +0 +3 +0 +1 +6 +1 +0 +0 +5$/m);
    expect(stdout).toMatch(
      /E-DATE 1 time in 1 file.*\n +wear\.csv:5 Date: expected a date, got "2024-13-01"/,
    );
    expect(stdout).toContain('"DUNES" 1 time under wear Base, first at wear.csv:6');
    expect(stdout).toContain('did you mean "Dune"?');
    expect(stdout).toContain("delimiter comma: line 1 holds all 6 headings");
    expect(stdout).toContain("as of 2024-06-30: 1 piece of life of 1 component");
    expect(stdout).toContain("0 by the fitted aircraft's base, 1 by the later reading only");
    expect(stdout).toMatch(
      /left out of the lives, 1 row of 1 component: its hours can't be known.*first wear\.csv:4/,
    );
    expect(stdout).toContain("Nothing was published.");
  });

  it("exits 3 where a report would refuse: no dated row", async () => {
    const fleet = await folderOf({
      "wear.csv": "Serial,Date,Hours,Wear,Tail,Base\nS,,5200,0.10,A1,Dune\n",
      "removals.csv": "Serial,Date,Hours,Cause,Tail\n",
      "installed.csv": "Serial,Date,Hours,Tail\n",
    });
    const { code, stdout, stderr } = await runCli(["check", fleet]);
    expect(code).toBe(3);
    expect(stdout).toContain("E-MISSING 1 time");
    expect(stderr).toContain("no month can be reported");
  });
});

describe("rotorwear trace", () => {
  it("shows every line that names a component: recorded, used, refused or repeated; the clock converted by hand", async () => {
    const repeated = `${FILES["wear.csv"]}S,2023-06-01,5200,0.10,A1,Dune\nXS,2024-06-01,9250,0.1,A2,Dune\n`;
    const fleet = await folderOf({ ...FILES, "wear.csv": repeated });
    const trace = await runCli(["trace", fleet, "--component", "S", "--as-of", "2024-06-30"]);
    // 5200 − 5000 h; 5300 − 5000 h at the removal; 300 + 9250 − 9000 h.
    expect(trace.stdout).toContain("wear 2023-06-01: hours 200 h, of the airframe 5200 h, wear 0.1 mm");
    expect(trace.stdout).toContain("removals 2023-10-01: hours 300 h, of the airframe 5300 h");
    expect(trace.stdout).toContain("wear 2024-06-01: hours 550 h, of the airframe 9250 h, wear 0.22 mm");
    expect(trace.stdout).toMatch(/wear\.csv:5\n +recorded S,2024-13-01.*\n +not used: .*\[E-DATE\]/);
    expect(trace.stdout).toMatch(
      /wear\.csv:7\n +recorded S,2023-06-01.*\n +not used: .*elsewhere with the same values/,
    );
    expect(trace.stdout).not.toContain("XS");
    // The fleet file knows no standard: there is a single one.
    expect(trace.stdout).toContain("life 1, piece 1: sandy, as fitted, aircraft A2");
    const { components } = JSON.parse((await runCli(["trace", fleet, "--component", "B", "--json"])).stdout);
    expect(components[0].excluded).toEqual([
      { reason: expect.stringContaining("can't be known"), rows: ["wear.csv:4"] },
    ]);
  });
});
