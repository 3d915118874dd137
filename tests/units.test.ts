import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Day, dayOf, isoMonth, monthNumber, published } from "../src/units.ts";

describe("monthNumber(day)", () => {
  it("counts the months that isoMonth names, through leap years and those left out", () => {
    const wrong: Day[] = [];
    for (let day = dayOf(1895, 1, 1)!; day <= dayOf(2105, 12, 31)!; day++) {
      const [year, month] = isoMonth(day).split("-").map(Number) as [number, number];
      if (monthNumber(day) !== 12 * year + month - 1) wrong.push(day);
    }
    expect(wrong).toEqual([]);
  });
});

describe("published(value)", () => {
  const tenDigits = (value: number) => (value === 0 ? 0 : Number(value.toPrecision(10)));

  it("is the value to ten significant digits, whether it was recorded with a few decimals or computed", () => {
    const recorded = fc
      .tuple(fc.integer({ min: -2e10, max: 2e10 }), fc.integer({ min: 0, max: 8 }))
      .map(([digits, decimals]) => digits / 10 ** decimals);
    fc.assert(
      fc.property(fc.oneof(recorded, fc.double()), (value) => {
        expect(published(value)).toBe(tenDigits(value));
      }),
      { numRuns: 2000 },
    );
  });

  it("has no negative zero, and keeps what lies at the edge of ten digits", () => {
    for (const value of [-0, 0, 9999.999999, 9999.9999995, 10000.000001, 1e-6, 4e-7, 9999999999, 12345678901])
      expect(published(value)).toBe(tenDigits(value));
  });
});
