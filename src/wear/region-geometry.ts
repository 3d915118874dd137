/** The region's shape as the covariance of θ sees it: standardised directions, and what aircraft add in each. */
import { CholeskyDecomposition, type Matrix } from "ml-matrix";
import { seededRandom } from "../math/random.ts";
import { asMatrix } from "./aircraft-clusters.ts";
import type { RateFit } from "./decision-fit.ts";
import { PARAMETERS } from "./decision-likelihood.ts";

/** Random directions besides those in which location and spread trade places. */
const RANDOM_PAIRS = 20;
const PLANE_PAIRS = 12;
/** A fixed stream: the same fit gives the same bounds. */
const SEED = 20130906;

export interface Geometry {
  /** Lower triangular A with A·A' = covariance. */
  readonly factor: Matrix;
  /** A⁻¹·clusterCovariance·A⁻ᵀ: what aircraft do to the variance of each direction. */
  readonly inflation: Matrix;
}

/** Centre and axes of the region's ellipsoid. */
export function geometryOf(fit: RateFit): Geometry {
  const factor = new CholeskyDecomposition(asMatrix(fit.covariance)).lowerTriangularMatrix;
  const half = solveLower(factor, asMatrix(fit.clusterCovariance));
  return { factor, inflation: solveLower(factor, half.transpose()) };
}

/** X with L·X = B, L lower triangular. */
function solveLower(lower: Matrix, right: Matrix): Matrix {
  const x = right.clone();
  for (let column = 0; column < x.columns; column++) {
    for (let i = 0; i < x.rows; i++) {
      let sum = x.get(i, column);
      for (let k = 0; k < i; k++) sum -= lower.get(i, k) * x.get(k, column);
      x.set(i, column, sum / lower.get(i, i));
    }
  }
  return x;
}

/** Pairs of opposite directions in standardised θ: gradients in the plane of location and spread, and random ones. */
export function directions(geometry: Geometry): Float64Array[] {
  const all: Float64Array[] = [];
  const add = (direction: Float64Array) =>
    all.push(
      direction,
      Float64Array.from(direction, (v) => -v),
    );
  for (let k = 0; k < PLANE_PAIRS; k++) {
    const angle = (Math.PI * k) / PLANE_PAIRS;
    // Angles in units of the two standard deviations, so that they cover what matters evenly.
    const gradient = new Float64Array(PARAMETERS);
    gradient[3] = Math.cos(angle) / sdOf(geometry, 3);
    gradient[4] = Math.sin(angle) / sdOf(geometry, 4);
    const direction = normalised(standardGradient(geometry, gradient));
    if (direction !== null) add(direction);
  }
  const random = seededRandom(SEED);
  for (let k = 0; k < RANDOM_PAIRS; k++) {
    const direction = normalised(Float64Array.from({ length: PARAMETERS }, () => random.normal()));
    if (direction !== null) add(direction);
  }
  return all;
}

function sdOf(geometry: Geometry, k: number): number {
  let sum = 0;
  for (let j = 0; j <= k; j++) sum += geometry.factor.get(k, j) ** 2;
  return Math.sqrt(sum);
}

/** A'·gradient: a gradient in θ as a direction in standardised θ. */
function standardGradient({ factor }: Geometry, gradient: Float64Array): Float64Array {
  return Float64Array.from({ length: PARAMETERS }, (_, j) => {
    let sum = 0;
    for (let i = j; i < PARAMETERS; i++) sum += factor.get(i, j) * gradient[i]!;
    return sum;
  });
}

/** The vector at length one; null for the zero vector. */
export function normalised(vector: Float64Array): Float64Array | null {
  const length = Math.hypot(...vector);
  return length > 0 && Number.isFinite(length) ? vector.map((v) => v / length) : null;
}

/** Variance of g with aircraft as clusters over that without. */
export function varianceRatio({ inflation }: Geometry, slope: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < PARAMETERS; i++) {
    for (let j = 0; j < PARAMETERS; j++) sum += slope[i]! * inflation.get(i, j) * slope[j]!;
  }
  return sum;
}

/**
 * The same for the location of the rates. A tail depends on location and spread, and the spread's ratio is low just
 * where the tail was underestimated, so the location's serves as its floor.
 */
export function locationRatio(geometry: Geometry): number {
  const gradient = new Float64Array(PARAMETERS);
  gradient[3] = 1;
  const direction = normalised(standardGradient(geometry, gradient));
  return direction === null ? 1 : varianceRatio(geometry, direction);
}
