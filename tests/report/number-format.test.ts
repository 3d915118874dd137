import { describe, expect, it } from "vitest";
import {
  alignedOnPoint,
  boundedHours,
  boundedRate,
  boundedShare,
  brackets,
  counted,
  date,
  fixed,
  hours,
  listed,
  monthName,
  percent,
  share,
  shareAgainst,
  whole,
} from "../../src/report/number-format.ts";
import { dayFromIso } from "../../src/units.ts";

/** Thin spaces as plain ones, to read the expectations. */
const plain = (text: string): string => text.replaceAll("\u202f", " ");

describe("fixed(value, decimals)", () => {
  it("groups from five digits on, and writes a true minus but never on a zero", () => {
    expect([1020, 12_300, 1_234_567.891, -3, -0.001].map((value) => plain(fixed(value, 0)))).toEqual([
      "1020",
      "12 300",
      "1 234 568",
      "\u22123",
      "0",
    ]);
    expect(plain(fixed(12_345.678, 2))).toBe("12 345.68");
  });

  it("refuses what is no number, since a page never shows NaN", () => {
    expect(() => fixed(Number.NaN, 0)).toThrow(RangeError);
    expect(() => whole(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});

describe("bounded numbers", () => {
  it("writes hours whole, with bounds in brackets", () => {
    expect(plain(boundedHours({ estimate: 410.4, lower: 349.6, upper: 520 }))).toBe("410 h (349–520)");
    expect(plain(boundedHours({ estimate: 410.4, lower: 349.6, upper: null }))).toBe("410 h (at least 349)");
  });

  it("gives a rate the decimals of two significant digits of its upper bound", () => {
    expect(plain(boundedRate({ estimate: 0.4211, lower: 0.3789, upper: 0.4688 }))).toBe("0.42 (0.37–0.47)");
    expect(plain(boundedRate({ estimate: 1.3, lower: 0.9, upper: 14.2 }, "mm"))).toBe("1 mm (0–15)");
    expect(plain(boundedRate({ estimate: 0, lower: 0, upper: 0.00987 }))).toBe("0.0000 (0.0000–0.0099)");
  });

  it("says which bound is missing", () => {
    expect(brackets({ estimate: 1, lower: null, upper: null }, whole)).toBe("(no bound)");
    expect(brackets({ estimate: 1, lower: null, upper: 2 }, whole)).toBe("(at most 2)");
  });

  it("writes shares in percent", () => {
    expect([0.008, 0.12, 0.00034, 0, 0.000004, 1, 0.9999].map((value) => percent(value))).toEqual([
      "0.80",
      "12",
      "0.034",
      "0",
      "under 0.001",
      "100",
      "over 99",
    ]);
    expect(plain(boundedShare({ estimate: 0.041, lower: 0.026, upper: 0.062 }))).toBe("4.1 % (2.6–6.2)");
    expect(plain(boundedShare({ estimate: 0.041, lower: null, upper: 0.062 }))).toBe("4.1 % (at most 6.2 %)");
  });
});

describe("shareAgainst(value, level)", () => {
  it("never rounds to the other side of the level, nor onto it", () => {
    expect(plain(shareAgainst(0.0996, 0.1))).toBe("9.96 %");
    expect(plain(shareAgainst(0.10004, 0.1))).toBe("10.004 %");
    expect(plain(shareAgainst(0.1, 0.1))).toBe("10 %");
    expect(plain(shareAgainst(0.062, 0.1))).toBe("6.2 %");
    expect(plain(shareAgainst(0.1 - 1e-13, 0.1))).toBe("just under 10 %");
    expect(plain(shareAgainst(0.00099999, 0.001))).toBe("0.099999 %");
  });
});

describe("bounds beside what is acceptable", () => {
  it("round up where they are upper ones, so that what is written still bounds", () => {
    expect(plain(shareAgainst(0.001748, 0.001, "up"))).toBe("0.18 %");
    expect(plain(shareAgainst(0.000844961, 0.001, "up"))).toBe("0.085 %");
    expect(plain(boundedShare({ estimate: 0.0306, lower: 0.0108, upper: 0.0613 }))).toBe("3.1 % (1.0–6.2)");
    expect(plain(boundedShare({ estimate: 0.9, lower: 0.8512, upper: 0.9971 }))).toBe("90 % (85–100)");
    expect(plain(share(0.0991, "up"))).toBe("10 %");
    expect(plain(share(0.07, "up"))).toBe("7.0 %");
    expect([percent(0.000004, "down"), percent(0.000004, "up"), percent(0.998, "down")]).toEqual([
      "0",
      "under 0.001",
      "99",
    ]);
  });

  it("never reach the level by being rounded, nor pass it", () => {
    expect(plain(shareAgainst(0.09901, 0.1, "up"))).toBe("9.91 %");
    expect(plain(shareAgainst(0.0996, 0.1, "up"))).toBe("9.96 %");
    expect(plain(shareAgainst(0.10004, 0.1, "up"))).toBe("10.004 %");
    expect(plain(shareAgainst(0.1049, 0.1, "down"))).toBe("10.4 %");
    expect(plain(shareAgainst(0.1, 0.1, "up"))).toBe("10 %");
  });
});

describe("alignedOnPoint(numbers)", () => {
  it("pads behind with spaces as wide as figures and point", () => {
    expect(alignedOnPoint(["12", "1.4", "0.26", "under 0.001 x", "–"])).toEqual([
      "12\u2008\u2007\u2007",
      "1.4\u2007",
      "0.26",
      "under 0.001 x",
      "–",
    ]);
    expect(alignedOnPoint(["1", "20"])).toEqual(["1", "20"]);
  });
});

describe("words around numbers", () => {
  it("counts, lists and dates", () => {
    expect([counted(1, "look"), counted(3, "look"), counted(1, "life", "lives")]).toEqual([
      "1 look",
      "3 looks",
      "1 life",
    ]);
    expect([listed([]), listed(["a"]), listed(["a", "b", "c"]), listed(["a", "b", "c", "d"], 2)]).toEqual([
      "",
      "a",
      "a, b and c",
      "a, b and 2 more",
    ]);
    expect([date(dayFromIso("2026-03-31")), date(null), monthName("2026-03"), plain(hours(410))]).toEqual([
      "2026-03-31",
      "–",
      "March 2026",
      "410 h",
    ]);
    expect(() => monthName("<b>")).toThrow(RangeError);
    expect(plain(share(0.95))).toBe("95 %");
  });
});
