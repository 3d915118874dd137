import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { REFERENCE_CHECKS } from "../src/report/pages/reference-checks.ts";
import { measuredChecks } from "./support/measured-checks.ts";
import { problemCodesTable } from "./support/problem-codes-table.ts";
import { referenceTable } from "./support/reference-table.ts";

const readme = readFileSync("README.md", "utf8");

/** Commands of the README's shell blocks that run rotorwear itself, as a user would type them. */
const commands = [...readme.matchAll(/^```sh\n([\s\S]*?)^```/gm)]
  .flatMap(([, block]) => block!.split("\n"))
  .filter((line) => line.startsWith("npx rotorwear "));

describe("README.md", () => {
  it("opens with the job in one paragraph", () => {
    const [title, , ...rest] = readme.split("\n");
    expect(title).toBe("# rotorwear");
    const paragraph = rest.join("\n").split("\n\n")[0]!;
    expect(paragraph).toMatch(/rotor head carries bearings and seals[\s\S]*inspection interval/);
  });

  it("lists every problem code with its meaning", () => {
    const table = problemCodesTable();
    expect(readme.includes(table), `the table of problem codes should be:\n${table}`).toBe(true);
  });

  it("says how far the numbers are from others', as the program ships and as measured now", () => {
    expect(measuredChecks()).toEqual(REFERENCE_CHECKS);
    const table = referenceTable();
    expect(readme.includes(table), `the reference table should be:\n${table}`).toBe(true);
  });

  it("shows pictures that exist", () => {
    const pictures = [...readme.matchAll(/!\[[^\]]*\]\(([^)]+)\)/g)].map(([, path]) => path!);
    expect(pictures.length).toBeGreaterThan(0);
    for (const path of pictures) expect(existsSync(path), path).toBe(true);
  });

  it.each(commands)("shows a command that works: %s", (command) => {
    const args = command.split(/\s+/).slice(2);
    const output = execFileSync(process.execPath, ["dist/cli/main.js", ...args], { encoding: "utf8" });
    expect(output.length).toBeGreaterThan(100);
  });

  it("gives the answers that its commands print", () => {
    const life = execFileSync(
      process.execPath,
      ["dist/cli/main.js", "life", "data-samples/published/turbine-wheels-life.csv", "--json"],
      { encoding: "utf8" },
    );
    const { weibull } = JSON.parse(life).groups[0];
    expect(weibull.shape.estimate).toBeCloseTo(2.1758, 4);
    expect(weibull.lives_at.find((at: { fraction: number }) => at.fraction === 0.1).hours).toBeCloseTo(
      1662.8,
      0,
    );
    const wear = execFileSync(
      process.execPath,
      ["dist/cli/main.js", "wear", "data-samples/published/sleep-deprivation-wear.csv", "--json"],
      { encoding: "utf8" },
    );
    expect(JSON.parse(wear).groups[0].rate_mm_per_1000h.estimate).toBeCloseTo(10467.29, 1);
  });
});
