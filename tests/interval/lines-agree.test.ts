import { describe, expect, it } from "vitest";
import { countPValue } from "../../src/interval/lines-agree.ts";
import { binomialCumulative } from "../../src/math/distributions.ts";

describe("countPValue(chances, count)", () => {
  it("is twice the smaller binomial tail where all chances are equal", () => {
    const chances = new Array(40).fill(0.1);
    for (const count of [0, 1, 3, 8, 12]) {
      const atMost = binomialCumulative(count, 40, 0.1);
      const atLeast = 1 - (count === 0 ? 0 : binomialCumulative(count - 1, 40, 0.1));
      expect(countPValue(chances, count)).toBeCloseTo(Math.min(1, 2 * Math.min(atMost, atLeast)), 10);
    }
  });

  it("is right for unequal chances (by hand: P(0) = 0.9 · 0.5)", () => {
    expect(countPValue([0.1, 0.5], 0)).toBeCloseTo(2 * 0.45, 12);
    expect(countPValue([0.1, 0.5], 2)).toBeCloseTo(2 * 0.05, 12);
  });

  it("is valid at zero finds where none were likely", () => {
    expect(countPValue(new Array(100).fill(0.001), 0)).toBe(1);
    expect(countPValue(new Array(100).fill(0.05), 0)).toBeCloseTo(2 * 0.95 ** 100, 10);
  });
});
