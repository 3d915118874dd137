/**
 * A solver for a positive (semi)definite matrix by Cholesky, with the least ridge that makes it definite.
 * Answers null where the solution is not finite.
 */
export function choleskySolver(
  matrix: Float64Array,
  n: number,
): (right: Float64Array) => Float64Array | null {
  let factor: Float64Array | null = null;
  for (let ridge = 0; factor === null && ridge < 1; ridge = ridge === 0 ? 1e-14 : ridge * 10) {
    factor = cholesky(matrix, n, ridge);
  }
  const found = factor;
  if (found === null) return () => null;
  return (right) => {
    const x = Float64Array.from(right);
    for (let i = 0; i < n; i++) {
      let sum = x[i]!;
      for (let k = 0; k < i; k++) sum -= found[i * n + k]! * x[k]!;
      x[i] = sum / found[i * n + i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i]!;
      for (let k = i + 1; k < n; k++) sum -= found[k * n + i]! * x[k]!;
      x[i] = sum / found[i * n + i]!;
    }
    return x.every(Number.isFinite) ? x : null;
  };
}

function cholesky(matrix: Float64Array, n: number, ridge: number): Float64Array | null {
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j]!;
      if (i === j) sum += ridge * matrix[i * n + i]!;
      for (let k = 0; k < j; k++) sum -= factor[i * n + k]! * factor[j * n + k]!;
      if (i === j) {
        if (!(sum > 1e-14 * matrix[i * n + i]!)) return null;
        factor[i * n + i] = Math.sqrt(sum);
      } else {
        factor[i * n + j] = sum / factor[j * n + j]!;
      }
    }
  }
  return factor;
}
