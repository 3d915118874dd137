/** Small positive definite matrices as row-major arrays: Cholesky's factor and what is solved with it. */

/** Lower triangular L with L·L' = the matrix, of which the lower half is read; null where it is not positive definite. */
export function choleskyFactor(matrix: Float64Array, n: number): Float64Array | null {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let left = matrix[i * n + j]!;
      for (let k = 0; k < j; k++) left -= lower[i * n + k]! * lower[j * n + k]!;
      if (j < i) lower[i * n + j] = left / lower[j * n + j]!;
      else if (left > 0) lower[i * n + i] = Math.sqrt(left);
      else return null;
    }
  }
  return lower;
}

/** x with L·L'·x = right. */
export function solveFactored(lower: Float64Array, n: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= lower[i * n + k]! * x[k]!;
    x[i]! /= lower[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= lower[k * n + i]! * x[k]!;
    x[i]! /= lower[i * n + i]!;
  }
  return x;
}

/** The inverse of L·L'. */
export function invertFactored(lower: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const unit = new Float64Array(n);
    unit[j] = 1;
    const column = solveFactored(lower, n, unit);
    // One value for both halves.
    for (let i = j; i < n; i++) inverse[i * n + j] = inverse[j * n + i] = column[i]!;
  }
  return inverse;
}
