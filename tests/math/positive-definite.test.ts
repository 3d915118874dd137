import { describe, expect, it } from "vitest";
import { choleskyFactor, invertFactored, solveFactored } from "../../src/math/positive-definite.ts";

describe("choleskyFactor(matrix, n)", () => {
  it("is the factor found by hand, and none of a matrix that is not positive definite", () => {
    expect([...choleskyFactor(Float64Array.of(4, 2, 2, 10), 2)!]).toEqual([2, 0, 1, 3]);
    expect(choleskyFactor(Float64Array.of(1, 2, 2, 1), 2)).toBeNull();
    expect(choleskyFactor(Float64Array.of(Number.NaN), 1)).toBeNull();
  });
});

describe("solveFactored(lower, n, right)", () => {
  it("solves by hand: 4x + 2y = 8, 2x + 10y = 22", () => {
    const lower = choleskyFactor(Float64Array.of(4, 2, 2, 10), 2)!;
    expect([...solveFactored(lower, 2, Float64Array.of(8, 22))]).toEqual([1, 2]);
  });
});

describe("invertFactored(lower, n)", () => {
  it("times the matrix gives the identity", () => {
    const matrix = Float64Array.of(6, 2, 1, 2, 5, -2, 1, -2, 4);
    const inverse = invertFactored(choleskyFactor(matrix, 3)!, 3);
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        const product = [0, 1, 2].reduce((sum, k) => sum + matrix[i * 3 + k]! * inverse[k * 3 + j]!, 0);
        expect(product).toBeCloseTo(i === j ? 1 : 0, 14);
      }
    }
  });
});
