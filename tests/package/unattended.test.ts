/** The built program as a machine runs it: killed, stopped, in other time zones and locales, two at once. */
import { execFile } from "node:child_process";
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { beforeAll, describe, expect, it } from "vitest";
import { contentsOf } from "../run/make-run.ts";
import { killRuns } from "../support/kill-runs.ts";
import { type CliOptions, runCli } from "../support/run-cli.ts";
import { smallFleet } from "../support/small-fleet.ts";

let fleet: string;
let fleetFile: string;
let usualMs: number;
let first: Awaited<ReturnType<typeof runCli>>;

const report = (out: string, args: readonly string[] = [], options: CliOptions = {}) =>
  runCli(["report", fleetFile, "--out", join(fleet, out), ...args], options);

beforeAll(async () => {
  fleet = await smallFleet({ aircraft: ["SH-101", "SH-102"], files: /-2026-0[89]\.csv$/ });
  fleetFile = join(fleet, "fleet.yaml");
  const start = performance.now();
  first = await report("first");
  usualMs = performance.now() - start;
}, 120_000);

describe("rotorwear report", () => {
  it("prints where the month is and the three lines that matter, and nothing else on stdout", async () => {
    expect(first.code, first.stderr).toBe(0);
    const [page, ...lines] = first.stdout.trimEnd().split("\n");
    expect(page).toBe(join(fleet, "first", "2026-09", "index.html"));
    const digest = (await readFile(join(fleet, "first", "2026-09", "digest.txt"), "utf8")).split("\n");
    expect(lines).toEqual(digest.filter((line) => line.trim() !== "").slice(0, 3));
  });

  it("--quiet says nothing; --json gives the outcome; --fail-on ends with 4 where it is true", async () => {
    expect(await report("first", ["--quiet"])).toMatchObject({ code: 0, stdout: "", stderr: "" });
    const { code, stdout } = await report("first", ["--json", "--fail-on", "act,shorten,alert,quality"]);
    const result = JSON.parse(stdout);
    expect(result).toMatchObject({
      schema: "rotorwear/report/1",
      outcome: "nothing to do",
      folder: "2026-09",
    });
    const run = JSON.parse(await readFile(join(fleet, "first", "2026-09", "run.json"), "utf8"));
    expect(result.raised.includes("act")).toBe(run.act_now.length > 0);
    expect(code).toBe(result.raised.length > 0 ? 4 : 0);
  });

  it("gives the same bytes in other time zones and locales", async () => {
    const published = await contentsOf(join(fleet, "first", "2026-09"));
    const places = [
      { TZ: "Pacific/Kiritimati", LC_ALL: "de_DE.UTF-8", LANG: "de_DE.UTF-8" },
      { TZ: "America/Adak", LC_ALL: "tr_TR.UTF-8", LANG: "tr_TR.UTF-8" },
    ];
    for (const [at, env] of places.entries()) {
      const { code, stderr } = await report(`place-${at}`, [], { env });
      expect(code, stderr).toBe(0);
      expect(await contentsOf(join(fleet, `place-${at}`, "2026-09"))).toEqual(published);
    }
    expect(published.size).toBeGreaterThan(10);
  }, 120_000);

  it("verifies what it published, and names the first difference with exit 6", async () => {
    await report("verified");
    const folder = join(fleet, "verified", "2026-09");
    const same = await runCli(["verify", folder]);
    expect(same.stderr).toBe("");
    expect(same.code).toBe(0);
    expect(same.stdout).toContain("every byte the same");
    await writeFile(join(folder, "digest.txt"), "all is well\n");
    const other = await runCli(["verify", folder]);
    expect(other.code).toBe(6);
    expect(other.stderr).toContain("digest.txt was changed since it was published [E-VERIFY]");
  }, 120_000);

  it.each([
    ["SIGINT", 130],
    ["SIGTERM", 143],
  ] as const)(
    "ends on %s within a second with %i, leaving no draft and no lock",
    async (signal, code) => {
      const out = `stopped-${signal}`;
      let sentAt = 0;
      const result = await report(out, [], {
        started: (child) => {
          setTimeout(() => {
            sentAt = performance.now();
            child.kill(signal);
          }, usualMs / 2);
        },
      });
      expect(result.code).toBe(code);
      // A second on a quiet machine.
      expect(performance.now() - sentAt).toBeLessThan(3_000);
      const left = await readdir(join(fleet, out)).catch(() => []);
      expect(left.filter((name) => name.startsWith("."))).toEqual([]);
      expect(left).not.toContain("2026-09");
      expect((await report(out)).code).toBe(0);
    },
    120_000,
  );

  it("ends on SIGTERM within a second while the output folder stalls, and gives up its process", async () => {
    const out = join(fleet, "stalled");
    await mkdir(out);
    // Reading a pipe that nobody writes to never returns, as a share that is gone doesn't.
    await promisify(execFile)("mkfifo", [join(out, ".lock")]);
    let sentAt = 0;
    const { code } = await report("stalled", [], {
      started: (child) => {
        setTimeout(() => {
          sentAt = performance.now();
          child.kill("SIGTERM");
        }, 1_000);
      },
    });
    expect(code).toBe(143);
    expect(performance.now() - sentAt).toBeLessThan(3_000);
  }, 120_000);

  it("says what ended the run's process from outside, with exit 5", async () => {
    const { code, stderr } = await report("ended", [], {
      started: (child) => {
        const kill = async () => {
          const { stdout } = await promisify(execFile)("pgrep", ["-P", String(child.pid)]).catch(() => ({
            stdout: "",
          }));
          if (stdout.trim() === "") setTimeout(kill, 5);
          else process.kill(Number(stdout.trim()), "SIGKILL");
        };
        void kill();
      },
    });
    expect(code).toBe(5);
    expect(stderr).toContain("ended from outside by SIGKILL");
    expect((await report("ended")).code).toBe(0);
  }, 120_000);

  it("lets one of two runs at once publish, and tells the other that the folder is held (exit 5)", async () => {
    const results = await Promise.all([report("both"), report("both")]);
    const codes = results.map((result) => result.code).sort();
    // Where the first has ended before the second looks, the second has nothing to do.
    expect([
      [0, 5],
      [0, 0],
    ]).toContainEqual(codes);
    for (const result of results) {
      if (result.code === 5) expect(result.stderr).toContain("is held by process");
    }
    expect((await readdir(join(fleet, "both"))).filter((name) => /^\d/.test(name))).toEqual(["2026-09"]);
  }, 120_000);

  it("says that the output can't be written, with exit 5", async () => {
    await writeFile(join(fleet, "a-file"), "");
    const { code, stderr } = await report(join("a-file", "out"));
    expect(code).toBe(5);
    expect(stderr).toContain("a file stands where a folder is needed");
    expect(stderr).not.toMatch(/\n\s+at /);
  }, 120_000);

  it("killed at 20 random moments: every published month is whole, and the next run works", async () => {
    const out = join(fleet, "killed");
    const tally = await killRuns(fleet, out, 20, usualMs, 20);
    expect(tally.damage).toEqual([]);
    expect(tally.kills).toBe(20);
    expect(tally.whileWriting).toBeGreaterThan(3);
    const last = await report("killed", ["--no-keep-inputs"]);
    expect(last.code, last.stderr).toBe(0);
    const names = await readdir(out);
    expect(names.filter((name) => name.startsWith("."))).toEqual([]);
    expect(names).toContain((await readFile(join(out, "latest"), "utf8")).trim());
  }, 600_000);
});
