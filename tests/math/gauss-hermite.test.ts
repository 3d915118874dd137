import { describe, expect, it } from "vitest";
import { normalQuadrature } from "../../src/math/gauss-hermite.ts";

describe("normalQuadrature(points)", () => {
  it("gives the moments of a standard normal exactly: 1, 0, 1, 3, 15, 105", () => {
    for (const points of [5, 15, 21, 31]) {
      const { nodes, weights } = normalQuadrature(points);
      const moment = (power: number) => nodes.reduce((sum, z, k) => sum + weights[k]! * z ** power, 0);
      for (const [power, expected] of [
        [0, 1],
        [1, 0],
        [2, 1],
        [4, 3],
        [6, 15],
        [8, 105],
      ] as const) {
        expect(moment(power)).toBeCloseTo(expected, 9);
      }
      expect([...nodes]).toEqual([...nodes].sort((a, b) => a - b));
    }
  });
  it("gives E exp(Z) = exp(1/2)", () => {
    const { nodes, weights } = normalQuadrature(21);
    expect(nodes.reduce((sum, z, k) => sum + weights[k]! * Math.exp(z), 0)).toBeCloseTo(Math.exp(0.5), 12);
  });
});
