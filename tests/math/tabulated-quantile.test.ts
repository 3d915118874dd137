import { describe, expect, it } from "vitest";
import { standardNormalCdf, standardNormalQuantile } from "../../src/math/distributions.ts";
import { tabulatedNormalQuantile } from "../../src/math/tabulated-quantile.ts";

describe("tabulatedNormalQuantile(p)", () => {
  it("agrees with @stdlib's between its nodes, in both tails and beyond its tables", () => {
    for (let log = -30; log < 0; log += 0.0137) {
      const p = Math.exp(log);
      expect(Math.abs(tabulatedNormalQuantile(p) - standardNormalQuantile(p))).toBeLessThan(1e-10);
      if (p > 1e-6) {
        expect(Math.abs(tabulatedNormalQuantile(1 - p) + standardNormalQuantile(p))).toBeLessThan(1e-10);
      }
    }
  });

  it("is the other way round of the distribution function", () => {
    for (let z = -5; z <= 5; z += 0.0613) {
      expect(tabulatedNormalQuantile(standardNormalCdf(z))).toBeCloseTo(z, 8);
    }
  });

  it("agrees with R's qnorm at 0.975 and 0.001", () => {
    expect(tabulatedNormalQuantile(0.975)).toBeCloseTo(1.95996398454005, 10);
    expect(tabulatedNormalQuantile(0.001)).toBeCloseTo(-3.09023230616781, 10);
  });
});
