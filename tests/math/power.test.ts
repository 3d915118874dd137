import { describe, expect, it } from "vitest";
import { power } from "../../src/math/power.ts";

describe("power(base, exponent)", () => {
  it("multiplies whole exponents: exact where the answer is a number of few digits (by hand)", () => {
    expect(power(2, 10)).toBe(1024);
    expect(power(-3, 3)).toBe(-27);
    expect(power(0.5, 4)).toBe(0.0625);
    expect(power(10, -2)).toBe(0.01);
    expect(power(7, 0)).toBe(1);
  });

  it("takes roots and broken exponents to 1e-13 of known values (by hand: squares and cubes)", () => {
    expect(Math.abs(power(2, 0.5) ** 2 - 2)).toBeLessThan(1e-13);
    expect(Math.abs(power(1234.5, 1 / 3) ** 3 / 1234.5 - 1)).toBeLessThan(1e-13);
    expect(power(32, 0.2)).toBeCloseTo(2, 13);
  });

  it("has the edges that the power function has", () => {
    expect(power(0, 1.5)).toBe(0);
    expect(power(0, -1.5)).toBe(Number.POSITIVE_INFINITY);
    expect(power(1, 123.4)).toBe(1);
    expect(power(Number.POSITIVE_INFINITY, 0.5)).toBe(Number.POSITIVE_INFINITY);
  });
});
