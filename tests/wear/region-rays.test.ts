import { Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { RateFit } from "../../src/wear/decision-fit.ts";
import { castRay, type Growth, stretched } from "../../src/wear/region-rays.ts";

const geometry = { factor: Matrix.eye(5), inflation: Matrix.eye(5) };
const direction = Float64Array.of(1, 0, 0, 0, 0);
const ROOT = 1.8;

/** A fit whose √(2·drop) along the first parameter is the function given; counts how often that was asked. */
function fitWith(drop: (x: number) => number) {
  let asked = 0;
  const value = (theta: ArrayLike<number>) => {
    asked++;
    return 100 - 0.5 * drop(theta[0]!) ** 2;
  };
  const fit = { theta: new Float64Array(5), logLikelihood: 100, likelihood: { value } } as unknown as RateFit;
  return { fit, asked: () => asked };
}

const cast = (drop: (x: number) => number, growth?: Growth) => {
  const { fit, asked } = fitWith(drop);
  return { ...castRay(fit, geometry, direction, ROOT, growth), asked: asked() };
};

describe("castRay(fit, geometry, direction, root, growth, start)", () => {
  it("needs one point where the likelihood is normal, or grows as was thought", () => {
    const normal = cast((x) => x);
    expect(normal.asked).toBe(1);
    expect(normal.distance).toBeCloseTo(ROOT, 10);
    const growth = { bend: 0.1, twist: 0.05 };
    const { asked, distance } = cast((x) => x * (1 + 0.1 * x + 0.05 * x * x), growth);
    expect(asked).toBe(1);
    expect(distance * (1 + 0.1 * distance + 0.05 * distance ** 2)).toBeCloseTo(ROOT, 8);
  });

  it("finds the root to 1e-3 within a few points (ten at a growth like e¹²ˣ) where the likelihood is skewed, however steeply", () => {
    const shapes: ((x: number) => number)[] = [
      (x) => 2 * Math.log1p(x / 2),
      (x) => Math.exp(x) - 1,
      (x) => Math.sinh(2.5 * x) / 2.5,
      (x) => Math.sinh(12 * x) / 12,
      (x) => x / (1 + 0.3 * x),
    ];
    for (const drop of shapes) {
      const { distance, asked } = cast(drop);
      expect(Math.abs(drop(distance) / ROOT - 1)).toBeLessThan(1e-3);
      expect(asked).toBeLessThanOrEqual(10);
    }
  });

  it("ends inside where there is a cliff, and far out where the likelihood is flat", () => {
    const cliff = cast((x) => (x < 1.3 ? x : Number.POSITIVE_INFINITY));
    expect(cliff.distance).toBeGreaterThan(1.29);
    expect(cliff.distance).toBeLessThanOrEqual(1.3);
    expect(cast((x) => Math.tanh(x)).distance).toBeGreaterThan(10);
  });
});

describe("stretched(ray, root, factor)", () => {
  it("follows the growth along the ray", () => {
    const drop = (x: number) => x * (1 + 0.1 * x + 0.02 * x * x);
    const ray = cast(drop, { bend: 0, twist: 0.02 });
    expect(drop(stretched(ray, ROOT, 1.4))).toBeCloseTo(1.4 * ROOT, 4);
    expect(stretched(ray, ROOT, 1)).toBe(ray.distance);
  });
});
