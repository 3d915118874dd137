import { describe, expect, it } from "vitest";
import { minimise, minimiseWithGradient } from "../../src/math/minimise.ts";

/** Rosenbrock (1960), Comput. J. 3, 175-184: a bent valley with its lowest point at (1, 1). */
const valley = (x: Float64Array) => 100 * (x[1]! - x[0]! ** 2) ** 2 + (1 - x[0]!) ** 2;
const slope = (x: Float64Array) =>
  Float64Array.of(-400 * x[0]! * (x[1]! - x[0]! ** 2) - 2 * (1 - x[0]!), 200 * (x[1]! - x[0]! ** 2));

describe("minimiseWithGradient(evaluate, start, options)", () => {
  it("takes the steps of minimise, and asks once where it asks for value and gradient", () => {
    let values = 0;
    const counted = (x: Float64Array) => {
      values++;
      return valley(x);
    };
    const apart = minimise(counted, [-1.2, 1], { gradient: slope });
    let asked = 0;
    const together = minimiseWithGradient(
      (x, gradient) => {
        asked++;
        gradient.set(slope(x));
        return valley(x);
      },
      [-1.2, 1],
    );
    expect(together).toEqual(apart);
    expect(asked).toBe(values);
    expect(together.at[0]).toBeCloseTo(1, 6);
    expect(together.gradient.every((g) => Math.abs(g) < 1e-5)).toBe(true);
  });

  it("is there at once from the inverse of the second derivatives of a parabola", () => {
    const parabola = (x: Float64Array, gradient: Float64Array) => {
      gradient.set([8 * x[0]! + 2 * x[1]! - 4, 2 * x[0]! + 3 * x[1]!]);
      return 4 * x[0]! ** 2 + 2 * x[0]! * x[1]! + 1.5 * x[1]! ** 2 - 4 * x[0]!;
    };
    const inverse = Float64Array.of(3 / 20, -2 / 20, -2 / 20, 8 / 20);
    const found = minimiseWithGradient(parabola, [3, -2], { inverse });
    expect(found.iterations).toBe(2);
    expect(found.at[0]).toBeCloseTo(0.6, 12);
    expect(found.at[1]).toBeCloseTo(-0.4, 12);
  });
});

describe("minimise(f, start, options) of a function whose logarithms run out of digits", () => {
  it("steps back from -Infinity, which is no minimum", () => {
    // Least at 1; beyond 3 a chance is too small for a number, and its logarithm -Infinity.
    const cost = (x: Float64Array) => (x[0]! > 3 ? Number.NEGATIVE_INFINITY : (x[0]! - 1) ** 2);
    const found = minimise(cost, [-20]);
    expect(found.kind).toBe("found");
    expect(found.at[0]).toBeCloseTo(1, 6);
  });
});
