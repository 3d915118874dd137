/** Small dense algebra for the finish of the nonparametric curve: curvature of sums over ranges, and its solution. */

/** Sum over blocks of `weight` on the square [from, to) x [from, to): n x n, row-major, by differences of corners. */
export function addCurvature(
  blocks: readonly { from: number; to: number; weight: number }[],
  n: number,
): Float64Array {
  const wide = n + 1;
  const corner = new Float64Array(wide * wide);
  for (const { from, to, weight } of blocks) {
    corner[from * wide + from]! += weight;
    corner[from * wide + to]! -= weight;
    corner[to * wide + from]! -= weight;
    corner[to * wide + to]! += weight;
  }
  const sum = new Float64Array(n * n);
  const columns = new Float64Array(wide);
  for (let i = 0; i < n; i++) {
    let running = 0;
    for (let j = 0; j < n; j++) {
      columns[j]! += corner[i * wide + j]!;
      running += columns[j]!;
      sum[i * n + j] = running;
    }
  }
  return sum;
}

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
