/** The examples in data-samples/automation/: what they run is run here, and their schedules are read. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { ROOT, runCli } from "../support/run-cli.ts";
import { smallFleet } from "../support/small-fleet.ts";

const FOLDER = join(ROOT, "data-samples", "automation");
const EXAMPLES = ["crontab", "rotorwear.service", "windows-task.cmd", "ci-schedule.yml"];
const text = (name: string) => readFile(join(FOLDER, name), "utf8");

let fleet: string;
beforeAll(async () => {
  fleet = await smallFleet({ aircraft: ["SH-101", "SH-102"], files: /-2026-0[89]\.csv$/ });
});

describe("data-samples/automation/", () => {
  it.each(EXAMPLES)(
    "%s: its command publishes the month, and a second time has nothing to do",
    async (name) => {
      const command = /rotorwear (report [^"\r\n]*)/.exec(await text(name))?.[1] ?? "";
      expect(command).toContain("--as-of last-month-end");
      const out = join(fleet, `reports-${name}`);
      const args = command
        .trim()
        .split(/ +/)
        .map((word) => word.replace(/^(\/srv|C:)[/\\]fleet[/\\]/, ""))
        // The small fleet ends in a month of its own.
        .map((word) => (word === "last-month-end" ? "2026-09-30" : word))
        .map((word) => (word === "fleet.yaml" ? join(fleet, word) : word === "reports" ? out : word));
      for (const time of [1, 2]) {
        const { code, stderr } = await runCli(args);
        expect([0, 4], `${time}: ${stderr}`).toContain(code);
      }
      expect((await readdir(out)).filter((entry) => /^\d/.test(entry))).toEqual(["2026-09"]);
    },
    120_000,
  );

  it("all run on the second of the month at 03:00", async () => {
    const fields = /^(\S+ \S+ \S+ \S+ \S+) +rotorwear /m.exec(await text("crontab"))?.[1];
    expect(fields).toBe("0 3 2 * *");
    expect(parse(await text("ci-schedule.yml")).on.schedule[0].cron).toBe(fields);
    expect(await text("rotorwear.timer")).toMatch(/^OnCalendar=\*-\*-02 03:00:00$/m);
    expect(await text("windows-task.cmd")).toContain("/SC MONTHLY /D 2 /ST 03:00");
  });

  it("has an entry in its README for every file", async () => {
    const readme = await text("README.md");
    for (const name of await readdir(FOLDER))
      if (name !== "README.md") expect(readme).toContain(`\`${name}\``);
  });
});
