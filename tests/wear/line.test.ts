import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { boundsOf, fitLeastSquares, fitLine, type LeastSquares } from "../../src/wear/line.ts";

// NIST Statistical Reference Datasets, Linear Least Squares, certified values: reference/nist-linear.json.
const { sets } = JSON.parse(readFileSync(new URL("../reference/nist-linear.json", import.meta.url), "utf8"));

const powers = (x: number[], highest: number) =>
  Array.from({ length: highest + 1 }, (_, power) => x.map((value) => value ** power));

function fitted(columns: number[][], y: number[]): LeastSquares {
  const fit = fitLeastSquares(columns, y);
  if (fit.kind !== "fitted") throw new Error(fit.why);
  return fit;
}

const near = (value: number, expected: number, relative: number) =>
  expect(Math.abs(value - expected), `${value} against ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );

function compare(fit: LeastSquares, b: number[], se: number[], residualSd: number, relative: number) {
  for (const [k, value] of b.entries()) near(fit.coefficients[k]!, value, relative);
  for (const [k, value] of se.entries()) near(fit.standardErrors[k]!, value, relative);
  near(fit.residualSd, residualSd, relative);
}

describe("fitLeastSquares(columns, y)", () => {
  it("agrees with NIST's certified Norris, and with R's bounds on it", () => {
    const { x, y, certified, R_only } = sets.Norris;
    const fit = fitLine(x, y);
    if (fit.kind !== "fitted") throw new Error(fit.why);
    compare(fit, [certified.B0, certified.B1], [certified.seB0, certified.seB1], certified.residSD, 1e-10);
    near(fit.rSquared, certified.R2, 1e-12);
    expect(fit.degreesOfFreedom).toBe(certified.dfResid);
    near(fit.covariance[0]![1]!, R_only.cov_B0_B1, 1e-9);
    const at500 = boundsOf(fit, [1, 500], 0.95);
    near(at500.estimate, R_only.x500.fit, 1e-11);
    near(at500.lower, R_only.x500.ci95[0], 1e-11);
    near(at500.upper, R_only.x500.ci95[1], 1e-11);
    near(boundsOf(fit, [0, 1], 0.95).lower, R_only.ci95_B1[0], 1e-10);
  });

  it("agrees with NIST's certified Pontius (quadratic)", () => {
    const { y, certified } = sets.Pontius;
    const x = y.map((_: number, k: number) => 150000 * ((k % 20) + 1));
    compare(fitted(powers(x, 2), y), certified.B, certified.se, certified.residSD, 1e-9);
  });

  it("agrees with NIST's certified NoInt1 (no intercept)", () => {
    const { x, y, certified } = sets.NoInt1;
    const fit = fitted([x], y);
    compare(fit, [certified.B1], [certified.seB1], certified.residSD, 1e-12);
    near(fit.rSquared, certified.R2, 1e-12);
  });

  it("agrees with NIST's certified Wampler4 (fifth power, large scatter) to 7 digits", () => {
    const { y, certified } = sets.Wampler4;
    const x = y.map((_: number, k: number) => k);
    compare(fitted(powers(x, 5), y), certified.B, certified.se, certified.residSD, 1e-7);
  });

  it("agrees with NIST's certified Longley (six columns, nearly dependent)", () => {
    const { certified, y, ...columns } = sets.Longley;
    const design = [y.map(() => 1), ...Object.values<number[]>(columns)];
    compare(fitted(design, y), certified.B, certified.se, certified.residSD, 1e-8);
  });

  it("says why there is no fit", () => {
    expect(fitLine([1, 2], [1, 2])).toMatchObject({ kind: "not-fitted", why: /no scatter/ });
    expect(fitLine([3, 3, 3], [1, 2, 3])).toMatchObject({ kind: "not-fitted", why: /depend/ });
    expect(fitLeastSquares([[0, 0, 0]], [1, 2, 3])).toMatchObject({ kind: "not-fitted", why: /zero/ });
  });
});
