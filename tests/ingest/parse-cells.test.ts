import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type DateReading,
  dateReader,
  monthStart,
  readDate,
  readMonth,
} from "../../src/ingest/parse-date.ts";
import { parseLength } from "../../src/ingest/parse-length.ts";
import { decimalEvidence, parseHours, parseNumber } from "../../src/ingest/parse-number.ts";
import { dayFromIso, isoDate } from "../../src/units.ts";

describe("parseNumber(text, decimal)", () => {
  it.each([
    ["0.42", ".", 0.42],
    ["1,204.5", ".", 1204.5],
    ["12,345,678.9", ".", 12_345_678.9],
    ["1 204.5", ".", 1204.5],
    ["1'204.5", ".", 1204.5],
    ["1\u00a0204,5", ",", 1204.5],
    ["1.204,5", ",", 1204.5],
    [".5", ".", 0.5],
    ["5.", ".", 5],
    ["-3", ".", -3],
    ["+3", ".", 3],
    ["1e3", ".", 1000],
    ["1,204", ".", 1204],
    ["1,204", ",", 1.204],
  ] as const)("reads %s with %s as %d", (text, decimal, value) => {
    expect(parseNumber(text, decimal)).toBe(value);
  });

  it.each([
    ["0,42", "."],
    ["0.42", ","],
    ["1,2045", "."],
    ["12,34,567", "."],
    ["1.2.3", "."],
    ["0x10", "."],
    ["NaN", "."],
    ["Infinity", "."],
    ["1e999", "."],
    ["", "."],
    ["-", "."],
    [".", "."],
    ["12 3", "."],
    ["1 2", ","],
    ["--3", "."],
    ["\u0661\u0662", "."],
  ] as const)("refuses %j with %s", (text, decimal) => {
    expect(parseNumber(text, decimal)).toBeNull();
  });

  it("reads back any number written with either mark", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999_999_999, max: 999_999_999 }),
        fc.integer({ min: 0, max: 6 }),
        (whole, digits) => {
          const text = (whole / 1000).toFixed(digits);
          expect(parseNumber(text, ".")).toBe(Number(text));
          expect(parseNumber(text.replace(".", ","), ",")).toBe(Number(text));
        },
      ),
    );
  });
});

describe("decimalEvidence(text)", () => {
  it.each([
    ["0.42", "point"],
    ["0,42", "comma"],
    ["1,204.5", "point"],
    ["1.204,5", "comma"],
    ["1,204", "ambiguous"],
    ["1.204", "ambiguous"],
    ["0.204", "point"],
    ["0,204", "comma"],
    ["1204", "either"],
    ["1 204", "either"],
    ["612:30", "either"],
    ["SAT", "none"],
  ] as const)("%s speaks for %s", (text, evidence) => {
    expect(decimalEvidence(text)).toBe(evidence);
  });
});

describe("parseHours(text, decimal) and parseLength(text, decimal)", () => {
  it("reads hours and minutes, and units after hours", () => {
    expect(parseHours("612:24", ".")).toBeCloseTo(612.4, 12);
    expect(parseHours("612.4 FH", ".")).toBe(612.4);
    expect(parseHours("612,4h", ",")).toBe(612.4);
    expect(parseHours("612:60", ".")).toBeNull();
    expect(parseHours("612:4", ".")).toBeNull();
  });

  it("reads lengths with their units, tells words from slips", () => {
    expect(parseLength("0.42 mm", ".")).toEqual({ kind: "length", value: 0.42, unit: "mm" });
    expect(parseLength("17 thou", ".")).toEqual({ kind: "length", value: 17, unit: "thou" });
    expect(parseLength("420\u03bcm", ".")).toEqual({ kind: "length", value: 420, unit: "um" });
    expect(parseLength('0,0165"', ",")).toEqual({ kind: "length", value: 0.0165, unit: "in" });
    expect(parseLength("4e-1", ".")).toEqual({ kind: "length", value: 0.4, unit: null });
    expect(parseLength("within limits", ".")).toEqual({ kind: "word" });
    expect(parseLength("0.4 ells", ".")).toEqual({ kind: "bad" });
  });
});

const day = (iso: string): number => dayFromIso(iso)!;
const dayOfReading = (reading: DateReading): string | null =>
  reading.kind === "day" ? isoDate(reading.day) : null;

describe("readDate(text)", () => {
  it.each([
    "2026-03-04",
    "2026/3/4",
    "2026.03.04",
    "20260304",
    "2026-03-04T10:20:30Z",
    "2026-03-04 10:20:30.123+02:00",
    "4 Mar 2026",
    "04-MAR-2026",
    "4. March 2026",
    "4Mar2026",
    "March 4, 2026",
    "Mar 4th, 2026",
    "Wed 4 Mar 2026 08:00 am",
    "2026-Mar-04",
  ])("reads %s as 2026-03-04", (text) => {
    expect(dayOfReading(readDate(text))).toBe("2026-03-04");
  });

  it("gives both readings where day and month could be swapped, and the one where they can't", () => {
    expect(readDate("03/04/2026")).toEqual({
      kind: "either",
      dayFirst: day("2026-04-03"),
      monthFirst: day("2026-03-04"),
    });
    expect(readDate("13/04/2026 09:00")).toEqual({
      kind: "ordered",
      order: "day first",
      day: day("2026-04-13"),
    });
    expect(readDate("04.13.2026")).toEqual({ kind: "ordered", order: "month first", day: day("2026-04-13") });
    expect(readDate("05-05-2026")).toEqual({ kind: "day", day: day("2026-05-05") });
  });

  it.each([
    ["31.02.2026", "no such day"],
    ["2026-02-29", "no such day"],
    ["2025-13-01", "no such day"],
    ["46027", "day number"],
    ["46027.5", "day number"],
    ["04-MAR-26", "two-digit year"],
    ["04/03/26", "two-digit year"],
    ["soon", "no date"],
    ["2026-03", "no date"],
    ["4 Mrz 2026", "no date"],
    ["2026-03/04", "no date"],
  ] as const)("refuses %s: %s", (text, why) => {
    expect(readDate(text)).toEqual({ kind: "none", why });
  });

  it("knows leap years (29 February 2000 and 2024, not 1900 or 2023)", () => {
    expect([2000, 2024, 1900, 2023].map((year) => readDate(`29.02.${year}`).kind)).toEqual([
      "ordered",
      "ordered",
      "none",
      "none",
    ]);
  });

  it("reads back any day in every form", () => {
    const names =
      "January February March April May June July August September October November December".split(" ");
    fc.assert(
      fc.property(fc.integer({ min: -7000, max: 47_000 }), (any) => {
        const iso = isoDate(any);
        const [y, m, d] = iso.split("-") as [string, string, string];
        const name = names[Number(m) - 1]!;
        // Compact dates are known from 1900 to 2099 only.
        for (const text of [
          iso,
          `${y}${m}${d}`,
          `${d} ${name} ${y}`,
          `${name.slice(0, 3)} ${Number(d)}, ${y}`,
        ])
          if (text.length !== 8 || /^(19|20)/.test(text)) expect(dayOfReading(readDate(text))).toBe(iso);
        const numbers = readDate(`${d}/${m}/${y}`);
        const dayFirst = numbers.kind === "either" ? numbers.dayFirst : "day" in numbers ? numbers.day : null;
        expect(dayFirst).toBe(any);
      }),
    );
  });
});

describe("readMonth(text)", () => {
  it.each(["2026-03", "2026/3", "202603", "03/2026", "3.2026", "Mar 2026", "March-2026", "2026 Mar"])(
    "reads %s",
    (text) => {
      expect(dayOfReading(readMonth(text))).toBe("2026-03-01");
    },
  );

  it("takes a date for the month it is in", () => {
    const reading = readMonth("2026-03-31");
    expect(reading.kind === "day" && isoDate(monthStart(reading.day))).toBe("2026-03-01");
  });

  it("refuses a month that there isn't", () => {
    expect(readMonth("2026-13")).toEqual({ kind: "none", why: "no such day" });
  });
});

describe("dateReader(pattern)", () => {
  it.each([
    ["dd.MM.yyyy", "04.03.2026"],
    ["dd.MM.yyyy", "4.3.2026"],
    ["MM/dd/yyyy", "03/04/2026"],
    ["dd-MMM-yy", "04-Mar-26"],
    ["yyyyMMdd", "20260304"],
    ["dd.MM.yyyy HH:mm", "04.03.2026 09:15"],
    ["dd.MM.yyyy", "04.03.2026 09:15:00"],
  ])("%s reads %s", (pattern, text) => {
    expect(dayOfReading(dateReader(pattern)(text))).toBe("2026-03-04");
  });

  it("refuses what doesn't fit, and literal characters stand for themselves", () => {
    expect(dateReader("dd.MM.yyyy")("04/03/2026").kind).toBe("none");
    expect(dateReader("dd.MM.yyyy")("04x03x2026").kind).toBe("none");
    expect(dateReader("dd.MM.yyyy")("31.02.2026")).toEqual({ kind: "none", why: "no such day" });
  });
});
