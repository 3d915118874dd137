import { spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { MAIN, runCli } from "../support/run-cli.ts";

const COMMANDS = ["report", "check", "trace", "replay", "verify", "life", "wear", "init", "simulate"];
const makeFolder = () => mkdtemp(join(tmpdir(), "rotorwear-cli-"));

describe("rotorwear", () => {
  it("lists its commands and exit codes, quickly", async () => {
    // The fastest of three: the machine may be busy, the program must not be.
    const times: number[] = [];
    for (let i = 0; i < 3; i++) {
      const start = performance.now();
      const { code, stdout } = await runCli(["--help"]);
      times.push(performance.now() - start);
      expect(code).toBe(0);
      for (const command of COMMANDS) expect(stdout).toContain(`  ${command} `);
      expect(stdout).toContain("Exit codes: 0 done");
    }
    // 150 ms on a quiet machine; a loaded one gets three times that.
    expect(Math.min(...times)).toBeLessThan(450);
  });

  it.each(COMMANDS)("%s --help has an example", async (command) => {
    const { code, stdout } = await runCli([command, "--help"]);
    expect(code).toBe(0);
    expect(stdout).toContain(`Example:\n  rotorwear ${command} `);
    expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it.each(["check", "trace", "life", "wear"])("%s: the example in its --help works", async (command) => {
    const help = await runCli([command, "--help"]);
    const example = /Example:\n {2}rotorwear (.*)\n/.exec(help.stdout)?.[1] ?? "";
    const { code, stdout, stderr } = await runCli(example.split(" "));
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(stdout.length).toBeGreaterThan(200);
  });

  it.each([
    [["bogus"], "unknown command 'bogus'"],
    [["life"], "missing required argument 'table'"],
    [["life", "x.csv", "--bogus"], "unknown option '--bogus'"],
    [["life", "x.csv", "--confidence", "95"], "expected a number over 0.5 and under 1"],
    [["report", "x.yaml", "--fail-on", "everything"], "expected some of act,shorten,alert,quality"],
    [["report", "x.yaml", "--as-of", "31.12.2026"], "expected a date as YYYY-MM-DD, or last-month-end"],
    [["replay", "x.yaml", "--months", "0"], "expected a whole number from 1 to 240"],
    [["simulate", "x"], "--seed <number>' not specified"],
  ])("%j is wrong usage: exit 2, one plain message, no stack", async (args, message) => {
    const { code, stdout, stderr } = await runCli(args);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(message);
    expect(stderr).not.toMatch(/\n\s+at /);
  });

  it("an unreadable table is exit 3, an unreadable fleet file exit 2, both without a stack", async () => {
    const table = await runCli(["life", "no-such-file.csv"]);
    expect(table).toMatchObject({ code: 3, stdout: "" });
    expect(table.stderr).toContain("there is no such file [E-FILE-READ]");
    for (const command of ["check", "report"]) {
      const out = await makeFolder();
      const extra = command === "report" ? ["--out", out] : [];
      const fleet = await runCli([command, "no-such-file.yaml", ...extra]);
      expect(fleet.code).toBe(2);
      expect(fleet.stderr).toContain("[E-FLEET-READ]");
      expect(fleet.stderr).not.toMatch(/\n\s+at /);
    }
  });

  it("--log json writes one object a line, with level, run and code", async () => {
    const { stderr } = await runCli(["wear", "no-such-file.csv", "--log", "json"]);
    const lines = stderr.trimEnd().split("\n");
    expect(lines).toHaveLength(1);
    expect(JSON.parse(lines[0]!)).toMatchObject({
      level: "error",
      code: "E-FILE-READ",
      run: expect.any(String),
    });
  });

  it("ends quietly when its reader goes away", async () => {
    const child = spawn("bash", [
      "-c",
      `"${process.execPath}" "${MAIN}" init --schema | head -c 10; echo " \${PIPESTATUS[0]}"`,
    ]);
    let output = "";
    child.stdout.on("data", (chunk) => {
      output += chunk;
    });
    let errors = "";
    child.stderr.on("data", (chunk) => {
      errors += chunk;
    });
    await new Promise((resolve) => child.on("close", resolve));
    expect(output).toMatch(/ 0\n$/);
    expect(errors).toBe("");
  });
});

describe("rotorwear wear", () => {
  const table = "data-samples/published/sleep-deprivation-wear.csv";

  it("gives the published answer for the published set (Bates et al. 2015, JSS 67(1), table of fm1)", async () => {
    const { code, stdout } = await runCli(["wear", table, "--json"]);
    expect(code).toBe(0);
    const result = JSON.parse(stdout);
    expect(result.schema).toBe("rotorwear/wear/1");
    expect(result.groups[0].intercept_mm.estimate).toBeCloseTo(251.405, 3);
    expect(result.groups[0].rate_mm_per_1000h.estimate).toBeCloseTo(10467.3, 1);
  });

  it("refuses a table with a bad row, naming line and column, and fits nothing", async () => {
    const folder = await makeFolder();
    const path = join(folder, "t.csv");
    await writeFile(path, "component,hours,wear\nA,100,0.1\nA,200,much\n");
    const { code, stdout, stderr } = await runCli(["wear", path]);
    expect(code).toBe(3);
    expect(stdout).toBe("");
    expect(stderr).toMatch(/t\.csv:3 wear: expected .* got "much"/);
  });
});

describe("rotorwear life", () => {
  it("fits a table with exact, interval, running lives and late entry, by group", async () => {
    const folder = await makeFolder();
    const path = join(folder, "t.csv");
    const rows = ["A,0,500,600", "A,0,700,700", "A,100,900,", "A,0,400,650", "B,0,300,", "B,0,310,"];
    await writeFile(path, `site,entry,lower,upper\n${rows.join("\n")}\n`);
    const { code, stdout } = await runCli(["life", path, "--by", "site", "--json"]);
    expect(code).toBe(0);
    const { groups } = JSON.parse(stdout);
    expect(groups[0]).toMatchObject({ group: "A", lives: 4, exact: 1, interval: 2, running: 1 });
    expect(groups[1]).toMatchObject({ group: "B", lives: 2, weibull: null, why: expect.any(String) });
    const text = await runCli(["life", path, "--by", "site"]);
    expect(text.stdout).toContain("A");
  });
});

describe("rotorwear life --svg, --naive", () => {
  const table = "data-samples/published/turbine-wheels-life.csv";

  it("draws the lives as one SVG file, the same bytes twice, and keeps stdout for the result", async () => {
    const folder = await makeFolder();
    const drawn: string[] = [];
    for (const name of ["a.svg", "b.svg"]) {
      const path = join(folder, name);
      const { code, stdout, stderr } = await runCli(["life", table, "--svg", path, "--json"]);
      expect([code, stderr]).toEqual([0, `chart written to ${path}\n`]);
      expect(JSON.parse(stdout).groups).toHaveLength(1);
      drawn.push(await readFile(path, "utf8"));
    }
    expect(drawn[0]).toBe(drawn[1]);
    expect(drawn[0]).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" width="\d+" height="\d+"/);
    expect(drawn[0]).toContain("All lives: one in ten has had the event by 1663");
    // Viewers other than browsers know no custom properties.
    expect(drawn[0]).not.toContain("var(");
  });

  it("a chart that can't be written is exit 5", async () => {
    const { code, stderr } = await runCli(["life", table, "--svg", "/no-such-folder/a.svg"]);
    expect(code).toBe(5);
    expect(stderr).toContain("[E-WRITE]");
  });

  it("says by how much a shortcut misleads (turbine wheels: 2767 h for 1663 h)", async () => {
    const { stdout } = await runCli(["life", table, "--naive"]);
    expect(stdout.replace(/\s+/g, " ")).toContain(
      "makes the 10 % life 66 % too long (2767 h instead of 1663 h)",
    );
  });
});

describe("rotorwear wear --svg", () => {
  const table = "data-samples/published/crack-growth-wear.csv";

  it("draws readings, line, band and limit as one SVG file, the same bytes twice", async () => {
    const folder = await makeFolder();
    const drawn: string[] = [];
    for (const name of ["a.svg", "b.svg"]) {
      const path = join(folder, name);
      const { code, stdout, stderr } = await runCli(["wear", table, "--limit", "40.64", "--svg", path]);
      expect([code, stderr]).toEqual([0, `chart written to ${path}\n`]);
      expect(stdout).toMatch(/wear rate {5}[\d.]+ \(95 %: [\d.]+ to [\d.]+\) mm per 1000 h/);
      drawn.push(await readFile(path, "utf8"));
    }
    expect(drawn[0]).toBe(drawn[1]);
    expect(drawn[0]).toContain("All components: wears");
    expect(drawn[0]).toContain("replace at 40.64");
    expect(drawn[0]).not.toContain("var(");
  });

  it("draws no limit where none is given, and a group without a fit by its readings alone", async () => {
    const folder = await makeFolder();
    await writeFile(join(folder, "two.csv"), "component,hours,wear\nA,100,0.1\nA,200,0.2\n");
    const path = join(folder, "c.svg");
    const { code } = await runCli(["wear", join(folder, "two.csv"), "--svg", path]);
    expect(code).toBe(0);
    const svg = await readFile(path, "utf8");
    expect(svg).toContain("no fit");
    expect(svg).not.toContain("replace at");
  });
});

describe("rotorwear trace", () => {
  it("shows a component's rows as recorded and as used, refused rows too, and the lives they made", async () => {
    const folder = await makeFolder();
    const rows = [
      "A1;30.01.2025;600;0,10",
      "A1;10.12.2025;1200;0,30",
      "A1;31.02.2026;1500;0,40",
      "B2;10.02.2026;5;0,01",
    ];
    await writeFile(join(folder, "wear.csv"), `Serial;Date;Hours;Wear\r\n${rows.join("\r\n")}\r\n`);
    await writeFile(join(folder, "fleet.yaml"), SMALL_FLEET);
    const { code, stdout, stderr } = await runCli(["trace", join(folder, "fleet.yaml"), "--component", "A1"]);
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(stdout).toContain(
      "wear.csv:2\n    recorded A1;30.01.2025;600;0,10\n    used     wear 2025-01-30: hours 600 h, wear 0.1 mm",
    );
    expect(stdout).toContain(
      "wear.csv:4\n    recorded A1;31.02.2026;1500;0,40\n    not used: wear.csv:4 Date: expected a date",
    );
    expect(stdout).toContain("[E-DATE]");
    expect(stdout).toContain("last good look 1200 h, no event (still fitted)");
    expect(stdout).not.toContain("B2");
    const unknown = await runCli(["trace", join(folder, "fleet.yaml"), "--component", "a1"]);
    expect(unknown.code).toBe(2);
    expect(unknown.stderr).toContain("did you mean A1?");
  });
});

const SMALL_FLEET = `fleet: Test fleet
exports:
  wear:
    files: wear.csv
    unit: mm
    clock: since new
    columns: { component: Serial, date: Date, hours: Hours, wear: Wear }
parts:
  - { part: grip bearing, part_numbers: [GB-1], replace_at: 0.50 mm }
tasks:
  - { task: wear check, part: grip bearing, basis: programme, reference: R1, interval: 600 h }
acceptable:
  detection: { chance: 0.90, reference: none }
`;

describe("rotorwear simulate, init, check", () => {
  it("writes a fleet that check accepts and whose ledger balances, and doesn't write over one", async () => {
    const folder = join(await makeFolder(), "fleet");
    expect(await runCli(["simulate", folder, "--seed", "7"])).toMatchObject({ code: 0 });
    expect(await readdir(folder)).toEqual(["exports", "faults.json", "fleet.yaml", "truth.json"]);
    expect((await runCli(["simulate", folder, "--seed", "8"])).code).toBe(2);
    const check = await runCli(["check", join(folder, "fleet.yaml"), "--json"]);
    expect(check.code).toBe(0);
    for (const file of JSON.parse(check.stdout).files) {
      expect(file.read).toBe(file.accepted + file.rejected + file.identical + file.superseded);
      expect(file.lines).toBe(file.headingLines + file.blankLines + file.totalsLines + file.rowLines);
    }
  });

  it("init writes a fleet file for exports it finds, which check refuses only for what a person must fill in", async () => {
    const folder = await makeFolder();
    await writeFile(
      join(folder, "wear-2026-01.csv"),
      "Serial;Inspected;Hours;Wear [mm]\r\nA1;05.01.2026;600,0;0,11\r\nA2;06.01.2026;610,0;0,12\r\n",
    );
    expect(await runCli(["init", folder])).toMatchObject({ code: 0 });
    expect((await runCli(["init", folder])).stderr).toContain("is there already");
    const { code, stderr } = await runCli(["check", join(folder, "fleet.yaml")]);
    expect(code).toBe(2);
    const lines = stderr.split("\n").filter((line) => line.includes("fleet.yaml:"));
    expect(lines.length).toBeGreaterThan(0);
    for (const line of lines) expect(line).toContain("FILL IN");
  });

  it("init --schema prints a JSON schema", async () => {
    const { code, stdout } = await runCli(["init", "--schema"]);
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ type: "object", properties: { parts: expect.anything() } });
  });

  it("finds planted faults in the demonstration and publishes nothing", async () => {
    const { code, stdout } = await runCli(["check", "data-samples/demonstration/fleet.yaml", "--json"]);
    expect(code).toBe(0);
    const result = JSON.parse(stdout);
    expect(result.problems.map((problem: { code: string }) => problem.code)).toContain("E-DATE");
    expect(result.unknown_words.length).toBeGreaterThan(0);
  });
});
