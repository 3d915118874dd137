import { describe, expect, it } from "vitest";
import { type Day, dayOf, isoMonth, monthNumber } from "../src/units.ts";

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
