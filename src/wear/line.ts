/**
 * Ordinary least squares with exact t bounds: a line, a polynomial or any few columns.
 *
 * Columns are scaled to length one and solved by Householder QR, which keeps the digits that normal equations lose.
 * Checked: NIST Statistical Reference Datasets, tests/wear/line.test.ts.
 */
import { Matrix, QrDecomposition } from "ml-matrix";
import { studentQuantile } from "../math/distributions.ts";

export interface LeastSquares {
  readonly kind: "fitted";
  readonly coefficients: readonly number[];
  readonly standardErrors: readonly number[];
  /** Covariance of the coefficients, row by row. */
  readonly covariance: readonly (readonly number[])[];
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
  /** Share of Σ(y − mean)² explained, or of Σy² without an intercept. */
  readonly rSquared: number;
}

export type LeastSquaresResult = LeastSquares | { readonly kind: "not-fitted"; readonly why: string };

/**
 * Least-squares fit of y on the given columns (the intercept's column of ones too, if there is to be one).
 *
 * @param columns one array per coefficient, each as long as y
 * @returns the fit, or why there is none: no degrees of freedom, or columns that depend on each other
 */
export function fitLeastSquares(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
): LeastSquaresResult {
  const n = y.length;
  const p = columns.length;
  if (n <= p)
    return { kind: "not-fitted", why: `${n} readings for ${p} coefficients leave no scatter to tell` };
  const lengths = columns.map((column) => Math.hypot(...Array.from(column)));
  if (lengths.some((length) => !(length > 0)))
    return { kind: "not-fitted", why: "a column is zero throughout" };
  const scaled = new Matrix(
    Array.from({ length: n }, (_, row) => columns.map((column, k) => column[row]! / lengths[k]!)),
  );
  const qr = new QrDecomposition(scaled);
  const upper = qr.upperTriangularMatrix;
  for (let k = 0; k < p; k++) {
    if (Math.abs(upper.get(k, k)) < 1e-13)
      return { kind: "not-fitted", why: "the columns depend on each other" };
  }
  const right = Matrix.columnVector(Array.from(y));
  const solution = qr.solve(right);
  // One step of refinement with the residual.
  solution.add(qr.solve(Matrix.sub(right, scaled.mmul(solution))));
  const residual = Matrix.sub(right, scaled.mmul(solution)).to1DArray();
  return describe(y, residual, solution.to1DArray(), upper, lengths, hasIntercept(columns));
}

function describe(
  y: ArrayLike<number>,
  residual: readonly number[],
  solution: readonly number[],
  upper: Matrix,
  lengths: readonly number[],
  intercept: boolean,
): LeastSquares {
  const p = solution.length;
  const degreesOfFreedom = y.length - p;
  const squares = residual.reduce((sum, r) => sum + r * r, 0);
  const values = Array.from(y);
  const mean = intercept ? values.reduce((sum, v) => sum + v, 0) / values.length : 0;
  const total = values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  const variance = squares / degreesOfFreedom;
  const inverse = invertUpper(upper, p);
  // (X'X)⁻¹ = R⁻¹R⁻ᵀ, scaled back.
  const covariance = Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (__, j) => {
      let sum = 0;
      for (let k = Math.max(i, j); k < p; k++) sum += inverse[i]![k]! * inverse[j]![k]!;
      return (variance * sum) / (lengths[i]! * lengths[j]!);
    }),
  );
  return {
    kind: "fitted",
    coefficients: solution.map((value, k) => value / lengths[k]!),
    standardErrors: covariance.map((row, k) => Math.sqrt(row[k]!)),
    covariance,
    residualSd: Math.sqrt(variance),
    degreesOfFreedom,
    rSquared: 1 - squares / total,
  };
}

/** y = a + b·x with its covariance. */
export const fitLine = (x: ArrayLike<number>, y: ArrayLike<number>): LeastSquaresResult =>
  fitLeastSquares([new Float64Array(x.length).fill(1), x], y);

/** Two-sided t bounds of Σ weights·coefficients: of one coefficient, or of the fitted value at a point. */
export function boundsOf(
  fit: LeastSquares,
  weights: readonly number[],
  confidence: number,
): { estimate: number; standardError: number; lower: number; upper: number } {
  const estimate = weights.reduce((sum, w, k) => sum + w * fit.coefficients[k]!, 0);
  let variance = 0;
  for (const [i, wi] of weights.entries()) {
    for (const [j, wj] of weights.entries()) variance += wi * wj * fit.covariance[i]![j]!;
  }
  const standardError = Math.sqrt(Math.max(0, variance));
  const t = studentQuantile(0.5 + confidence / 2, fit.degreesOfFreedom);
  return {
    estimate,
    standardError,
    lower: estimate - t * standardError,
    upper: estimate + t * standardError,
  };
}

const hasIntercept = (columns: readonly ArrayLike<number>[]): boolean =>
  columns.some((column) => Array.from(column).every((value) => value === column[0]));

function invertUpper(upper: Matrix, p: number): number[][] {
  const inverse = Array.from({ length: p }, () => new Array<number>(p).fill(0));
  for (let column = 0; column < p; column++) {
    inverse[column]![column] = 1 / upper.get(column, column);
    for (let row = column - 1; row >= 0; row--) {
      let sum = 0;
      for (let k = row + 1; k <= column; k++) sum += upper.get(row, k) * inverse[k]![column]!;
      inverse[row]![column] = -sum / upper.get(row, row);
    }
  }
  return inverse;
}
