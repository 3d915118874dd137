import { describe, expect, it } from "vitest";
import { choleskySolver } from "../../src/life/cholesky.ts";
import { hazardSystem, type SumCurvature } from "../../src/life/hazard-system.ts";
import { seededRandom } from "../../src/math/random.ts";

/** The matrix of second derivatives by the steps, written out. */
function dense(curvature: readonly SumCurvature[], n: number): Float64Array {
  const matrix = new Float64Array(n * n);
  for (const { from, to, weight } of curvature)
    for (let i = from; i < to; i++) for (let j = from; j < to; j++) matrix[i * n + j]! += weight;
  return matrix;
}

describe("hazardSystem(curvature, n)", () => {
  it("solves the same equations as Cholesky on the steps, and has its variances (40 random systems, seeded)", () => {
    const random = seededRandom(31);
    for (let r = 0; r < 40; r++) {
      const n = 1 + random.below(12);
      const single = Array.from({ length: n }, (_, k) => ({
        from: k,
        to: k + 1,
        weight: 0.1 + random.uniform(),
      }));
      const wide = Array.from({ length: 15 }, () => {
        const from = random.below(n);
        return { from, to: from + 1 + random.below(n - from), weight: 10 * random.uniform() };
      });
      const curvature = [...single, ...wide];
      const solve = choleskySolver(dense(curvature, n), n);
      const slope = Float64Array.from({ length: n }, () => random.uniform() - 0.5);
      const system = hazardSystem(curvature, n);
      const way = system.way(slope)!;
      const expected = solve(slope)!;
      for (let k = 0; k < n; k++) expect(way[k]!).toBeCloseTo(expected[k]!, 10);
      const variances = system.variances();
      for (let k = 0; k < n; k++) {
        const upTo = Float64Array.from({ length: n }, (_, i) => (i <= k ? 1 : 0));
        const variance = solve(upTo)!.reduce((sum, value, i) => sum + value * upTo[i]!, 0);
        expect(variances[k]!).toBeCloseTo(variance, 10);
      }
    }
  });

  it("keeps its digits where steps differ by 15 orders: each stands alone, so each variance is a sum of inverses", () => {
    const weights = [1e12, 1, 1e-3, 1e9];
    const curvature = weights.map((weight, k) => ({ from: k, to: k + 1, weight }));
    const { variances } = hazardSystem(curvature, 4);
    let sum = 0;
    for (const [k, weight] of weights.entries()) {
      sum += 1 / weight;
      expect(variances()[k]! / sum).toBeCloseTo(1, 14);
    }
  });
});
