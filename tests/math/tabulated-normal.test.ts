import { describe, expect, it } from "vitest";
import { standardNormalCdf } from "../../src/math/distributions.ts";
import { tabulatedNormalCdf } from "../../src/math/tabulated-normal.ts";

describe("tabulatedNormalCdf(z)", () => {
  it("agrees with @stdlib's normal distribution between its nodes and in both tails", () => {
    for (let z = -12; z <= 12; z += 0.00371) {
      const exact = standardNormalCdf(z);
      expect(Math.abs(tabulatedNormalCdf(z) - exact)).toBeLessThan(1e-10);
      if (z < 0) expect(Math.abs(tabulatedNormalCdf(z) / exact - 1)).toBeLessThan(1e-6);
    }
  });

  it("agrees with R's pnorm at 1.959964 and −3.090232", () => {
    expect(tabulatedNormalCdf(1.9599639845400545)).toBeCloseTo(0.975, 10);
    expect(tabulatedNormalCdf(-3.090232306167813)).toBeCloseTo(0.001, 10);
  });
});
