import { describe, expect, it } from "vitest";
import { nearestWord } from "../../src/fleet/nearest-word.ts";
import {
  readDay,
  readHours,
  readLengthMm,
  readLengthRangeMm,
  readMonth,
  readMonths,
  readNumber,
  readShare,
} from "../../src/fleet/quantity.ts";

const value = (quantity: { kind: string; value?: unknown }) =>
  quantity.kind === "ok" ? quantity.value : "refused";

describe("readLengthMm(text)", () => {
  it.each([
    ["0.50 mm", 0.5],
    ["0.5mm", 0.5],
    ["500 um", 0.5],
    ["500 µm", 0.5],
    ["20 thou", 0.508],
    ["0.02 in", 0.508],
    ["0 mm", 0],
    [".5 mm", 0.5],
  ])("%s", (text, mm) => expect(value(readLengthMm(text))).toBeCloseTo(mm, 12));
  it.each(["0.5", "0,5 mm", "1,204 mm", "-1 mm", "mm", "", "0.5 MM", "0.5 cm", "1e400 mm0"])(
    "refuses %j",
    (text) => {
      expect(value(readLengthMm(text))).toBe("refused");
    },
  );
});

describe("other quantities", () => {
  it("hours, months, shares, numbers", () => {
    expect(value(readHours("600 h"))).toBe(600);
    expect(value(readMonths("12 months"))).toBe(12);
    expect(value(readMonths("1 month"))).toBe(1);
    expect(value(readShare("10%"))).toBe(0.1);
    expect(value(readShare("0.10"))).toBe(0.1);
    expect(value(readNumber("1e-3"))).toBe(0.001);
    expect(value(readDay("1970-01-02"))).toBe(1);
    expect(value(readMonth("2026-04"))).toBe("2026-04");
    expect(value(readLengthRangeMm("0 mm to 40 thou"))).toEqual({ lowMm: 0, highMm: 40 * 0.0254 });
  });
  it.each([
    readHours("600"),
    readHours("0 h"),
    readHours("600 km"),
    readMonths("0 months"),
    readMonths("1.5 months"),
    readShare("110%"),
    readShare("10"),
    readNumber("NaN"),
    readNumber("1e999"),
    readNumber("0x10"),
    readDay("2026-02-29"),
    readMonth("2026-4"),
    readLengthRangeMm("0 to 1 mm"),
  ])("refuses $expected ($hint)", (quantity) => expect(quantity.kind).toBe("problem"));
});

describe("nearestWord(word, valid)", () => {
  it("finds a word mistyped, in other case, with spaces, or with two letters swapped", () => {
    expect(nearestWord("SALT PAN", ["Highland", "Saltpan"])).toBe("Saltpan");
    expect(nearestWord("grip baering", ["grip bearing", "seal"])).toBe("grip bearing");
  });
  it("is null where nothing is near", () => {
    expect(nearestWord("propeller", ["Highland", "Saltpan"])).toBeNull();
    expect(nearestWord("X", ["S", "P"])).toBeNull();
  });
});
