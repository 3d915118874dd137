import { describe, expect, it } from "vitest";
import { csvCell, csvLine } from "../../src/records/csv-cell.ts";

describe("csvCell(value)", () => {
  it.each([
    ["GB-100-1", "GB-100-1"],
    ["exports/wear-2026-03.csv:12 19 31", "exports/wear-2026-03.csv:12 19 31"],
    ["a.csv:1; b.csv:2", '"a.csv:1; b.csv:2"'],
    ["=1+1", "'=1+1"],
    [" =1", "' =1"],
    ["-1+2", "'-1+2"],
    ["-12.5", "-12.5"],
    ["+1e5", "+1e5"],
    ["@x", "'@x"],
    ["\tx", `"'\tx"`],
    ['6" rule', '"6"" rule"'],
    ["two\nlines", '"two\nlines"'],
    ["a,b", '"a,b"'],
    ["a\n", '"a\n"'],
    ["пыль", "пыль"],
    ["", ""],
  ])("writes %j as %j", (value, cell) => {
    expect(csvCell(value)).toBe(cell);
  });
});

describe("csvLine(cells)", () => {
  it("sets cells apart, leaves empty what is not recorded, and ends its line", () => {
    expect(csvLine(["0012", null, 0.5, "a,b", null])).toBe('0012,,0.5,"a,b",\n');
    expect(csvLine([])).toBe("\n");
  });
});
