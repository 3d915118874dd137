import { describe, expect, it } from "vitest";
import { rounded, roundedDigits } from "../../src/math/rounded.ts";

describe("rounded(value, decimals, rounding)", () => {
  it("puts an upper bound up and a lower one down, whichever is nearer", () => {
    expect(rounded(0.1748, 2, "up")).toBe(0.18);
    expect(rounded(0.1748, 2)).toBe(0.17);
    expect(rounded(0.0844961, 3, "up")).toBe(0.085);
    expect(rounded(0.179, 2, "down")).toBe(0.17);
    expect(rounded(349.6, 0, "down")).toBe(349);
    expect(rounded(-0.31, 1, "up")).toBe(-0.3);
    expect(rounded(-0.31, 1, "down")).toBe(-0.4);
  });

  it("leaves what already is such a number, but for the noise of arithmetic", () => {
    expect(100 * 0.07).toBeGreaterThan(7);
    expect(rounded(100 * 0.07, 0, "up")).toBe(7);
    expect(rounded(0.1 + 0.2, 1, "up")).toBe(0.3);
    expect(rounded(0.3, 1, "down")).toBe(0.3);
    expect(rounded(0, 2, "up")).toBe(0);
    expect(rounded(7.00001, 2, "up")).toBe(7.01);
  });
});

describe("roundedDigits(value, digits, rounding)", () => {
  it("counts digits from the first that is not 0", () => {
    expect(roundedDigits(0.001748, 2, "up")).toBe(0.0018);
    expect(roundedDigits(0.001748, 2)).toBe(0.0017);
    expect(roundedDigits(47.1, 2, "up")).toBe(48);
    expect(roundedDigits(1234, 2, "up")).toBe(1300);
    expect(roundedDigits(1299, 2, "down")).toBe(1200);
    expect(roundedDigits(0.0996, 2, "up")).toBe(0.1);
    expect(roundedDigits(0, 2, "up")).toBe(0);
  });
});
