/** Components of one aircraft are alike: the covariance of a fit with aircraft, not components, as the sample. */
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { PARAMETERS } from "./decision-likelihood.ts";

export interface Clusters {
  readonly count: number;
  readonly of: Int32Array;
}

/** Clusters numbered from 0; −1 stands alone. */
export function clusterNumbers(aircraft: Int32Array): Clusters {
  const numbers = new Map<number, number>();
  let count = 0;
  const of = Int32Array.from(aircraft, (number) => {
    if (number < 0) return count++;
    const known = numbers.get(number);
    if (known !== undefined) return known;
    numbers.set(number, count);
    return count++;
  });
  return { count, of };
}

/** V (Σ s s') V over clusters, times G/(G − 1). */
export function sandwich(covariance: Float64Array, scores: Float64Array, clusters: Clusters): Float64Array {
  const sums = new Float64Array(clusters.count * PARAMETERS);
  for (let i = 0; i < clusters.of.length; i++) {
    for (let k = 0; k < PARAMETERS; k++) {
      sums[clusters.of[i]! * PARAMETERS + k]! += scores[i * PARAMETERS + k]!;
    }
  }
  const v = asMatrix(covariance);
  const s = new Matrix(
    Array.from({ length: clusters.count }, (_, g) =>
      Array.from(sums.subarray(g * PARAMETERS, (g + 1) * PARAMETERS)),
    ),
  );
  const few = clusters.count / Math.max(1, clusters.count - 1);
  const raw = v.mmul(s.transpose().mmul(s)).mmul(v);
  return Float64Array.from(
    raw
      .add(raw.transpose())
      .mul(0.5 * few)
      .to1DArray(),
  );
}

/** 5 × 5 from row-major. */
export const asMatrix = (rowMajor: Float64Array): Matrix =>
  new Matrix(
    Array.from({ length: PARAMETERS }, (_, i) =>
      Array.from(rowMajor.subarray(i * PARAMETERS, (i + 1) * PARAMETERS)),
    ),
  );

/**
 * Inverse of an observed information, in the given steps. Directions in which the likelihood is flat (or at an edge
 * curves the other way) get a standard error of ten steps: bounds follow the likelihood itself from there.
 */
export function invertInformation(hessian: Float64Array, step: Float64Array): Float64Array | null {
  if (hessian.some((value) => !Number.isFinite(value))) return null;
  const scaled = asMatrix(
    hessian.map((value, k) => value * step[Math.floor(k / PARAMETERS)]! * step[k % PARAMETERS]!),
  );
  const { realEigenvalues, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(scaled, {
    assumeSymmetric: true,
  });
  const inverse = Matrix.diag(realEigenvalues.map((value) => 1 / Math.max(value, 0.01)));
  const raw = vectors.mmul(inverse).mmul(vectors.transpose());
  return Float64Array.from({ length: PARAMETERS ** 2 }, (_, k) => {
    const [i, j] = [Math.floor(k / PARAMETERS), k % PARAMETERS];
    return 0.5 * (raw.get(i, j) + raw.get(j, i)) * (step[i]! * step[j]!);
  });
}
