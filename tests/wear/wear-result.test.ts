import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { describeProblem } from "../../src/problems.ts";
import { parseWearTable } from "../../src/wear/parse-wear-table.ts";
import { wearResult } from "../../src/wear/wear-result.ts";
import { wearText } from "../../src/wear/wear-text.ts";

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), "utf8");

function parsed(text: string, by?: string) {
  const result = parseWearTable(text, "table.csv", by);
  if (result.kind !== "parsed") throw new Error(result.problems.map(describeProblem).join("\n"));
  return result;
}

describe("parseWearTable(text, file, by)", () => {
  it("groups rows, keeps names as text and counts every row", () => {
    const text =
      "﻿Component, Hours ,wear,base\r\n0012,600,0.31,A\r\n12,600,0.30,A\r\n\r\n0012,1200,0.62,B\r\n";
    const { groups, rowsRead, problems } = parsed(text, "base");
    expect(groups.map((group) => [group.group, group.table.rows, group.componentNames])).toEqual([
      ["A", 2, ["0012", "12"]],
      ["B", 1, ["0012"]],
    ]);
    expect(rowsRead).toBe(3);
    expect(problems).toEqual([]);
    expect(parsed(text).groups.map((group) => group.group)).toEqual(["all"]);
  });

  it("refuses bad rows with line, column, expectation and code, and keeps the others", () => {
    const text =
      'component,hours,wear\na,600,0.3\na,"1,200",0.6\n,700,0.3\nb,-5,0.1\nb,5\nb,600,x\nb,600,0.2\n';
    const { groups, rowsRead, problems } = parsed(text);
    expect(problems.map(describeProblem)).toEqual([
      'table.csv:3 hours: expected flight hours, got "1,200" (decimal points, no thousands separators) [E-TABLE]',
      'table.csv:4 component: expected a component\'s name or serial number, got "" [E-TABLE]',
      'table.csv:5 hours: expected flight hours of at least 0, got "-5" [E-TABLE]',
      'table.csv:6: expected 3 cells, got "2 cells" [E-TABLE]',
      'table.csv:7 wear: expected millimetres, got "x" [E-TABLE]',
    ]);
    expect(groups[0]!.table.rows + problems.length).toBe(rowsRead);
  });

  it("refuses a table without its headings", () => {
    for (const [text, by, expected] of [
      ["", undefined, /a heading line/],
      ["component;hours;wear\na;1;2\n", undefined, /commas between the columns/],
      ["component,hours,wear,wear\n", undefined, /one column "wear"/],
      ["component,hours,wear\n", "base", /a column "base" to group by/],
    ] as const) {
      const result = parseWearTable(text, "table.csv", by);
      expect(result.kind).toBe("unusable");
      expect(describeProblem(result.problems[0]!)).toMatch(expected);
    }
  });
});

describe("wearResult(groups, options)", () => {
  it("gives the published answer on the published set (Bates et al. 2015, J. Stat. Softw. 67(1))", () => {
    const { groups } = parsed(read("data-samples/published/sleep-deprivation-wear.csv"));
    const result = wearResult(groups);
    expect(result.schema).toBe("rotorwear/wear/1");
    const [group] = result.groups;
    expect(group).toMatchObject({ group: "all", components: 18, readings: 180 });
    expect(group!.intercept_mm!.estimate.toFixed(3)).toBe("251.405");
    expect((group!.rate_mm_per_1000h!.estimate / 1000).toFixed(3)).toBe("10.467");
    expect(Object.keys(group!).slice(0, 8)).toEqual([
      "group",
      "components",
      "readings",
      "intercept_mm",
      "rate_mm_per_1000h",
      "component_sd",
      "measurement_sd_mm",
      "log_likelihood",
    ]);
  });

  it("says of the published fatigue cracks that a straight line reaches the limit too late (Lu and Meeker 1993)", () => {
    const { groups } = parsed(read("data-samples/published/crack-growth-wear.csv"));
    const result = wearResult(groups, { limitMm: 17.78 });
    expect(result.groups[0]!.cautions.some((caution) => caution.includes("too late"))).toBe(true);
    // The source interpolates 12 of 21 cracks over the limit by 118 thousand cycles: the median is past by then.
    expect(result.groups[0]!.hours_to_limit!.estimate!).toBeGreaterThan(118);
    const straight = wearResult(parsed(read("tests/reference/data/wear-unbalanced.csv")).groups);
    expect(straight.groups[0]!.cautions).toEqual([]);
  });

  it("says why a group has no fit, beside groups that have one", () => {
    const { groups } = parsed(
      "component,hours,wear,group\na,1,1,x\na,2,2.1,x\na,3,2.9,x\nb,1,1,x\nb,2,1.7,x\na,1,1,y\n",
    );
    const result = wearResult(groups);
    expect(result.groups[0]!.rate_mm_per_1000h).not.toBeNull();
    expect(result.groups[1]).toMatchObject({ rate_mm_per_1000h: null, why: /at least two components/ });
    expect(wearText(result)).toMatch(/y: 1 reading of 1 component\n {2}not fitted: at least two/);
  });

  it("bounds the hours to a limit as the line's own bounds cross it (Fieller)", () => {
    const { groups } = parsed(read("tests/reference/data/wear-unbalanced.csv"));
    const limit = wearResult(groups, { limitMm: 0.5 }).groups[0]!;
    const { hours_to_limit: to, intercept_mm: a, rate_mm_per_1000h: b } = limit;
    expect(to!.estimate).toBeCloseTo((1000 * (0.5 - a!.estimate)) / b!.estimate, 4);
    expect(to!.lower!).toBeGreaterThan(0);
    expect(to!.lower!).toBeLessThan(to!.estimate!);
    expect(to!.upper!).toBeGreaterThan(to!.estimate!);
    expect(wearText(wearResult(groups, { limitMm: 0.5 }))).toMatch(
      /reaches 0.5 mm at \d+ h \(95 %: \d+ to \d+ h\)/,
    );
  });
});
