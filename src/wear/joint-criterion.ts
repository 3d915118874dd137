/**
 * The profiled restricted likelihood of the joint model: any few columns of fixed effects, a random intercept and slope
 * by component, and a random slope by aircraft, from per-component cross products only.
 *
 * Within a component M = I − Z·W·Z' with W = Δ(I + AΔ)⁻¹; an aircraft adds a slope of its own, ratio γ² to the scatter,
 * over all its components, which is one more rank: V⁻¹ = M − M·h·h'·M·γ²/(1 + γ²·h'Mh).
 */
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { Random } from "../math/random.ts";

/** Cross products of one component; arrays of length p, p × 2 and p × p are row-major. */
export interface JointComponent {
  readonly aircraft: number;
  /** Columns that are not zero throughout: a component flew in few of the cells. */
  readonly used: Int32Array;
  readonly readings: number;
  readonly zz: readonly [number, number, number];
  readonly xz: Float64Array;
  readonly xx: Float64Array;
  readonly zy: readonly [number, number];
  readonly xy: Float64Array;
  readonly yy: number;
}

export interface JointData {
  readonly columns: number;
  readonly readings: number;
  readonly aircraft: number;
  readonly components: readonly JointComponent[];
}

/** Relative spreads: triangular L of the component's intercept and slope (Δ = L·L'), and the aircraft's slope. */
export type JointSpread = readonly [number, number, number, number];

export interface JointFit {
  /** −2·restricted log-likelihood, profiled, without constants. */
  readonly value: number;
  readonly fixed: Float64Array;
  readonly residualVariance: number;
  /** Covariance of the fixed effects by the model, p × p row-major. */
  readonly covariance: Matrix;
  /** The same with aircraft as clusters (sandwich, G/(G − 1)). */
  readonly clusterCovariance: Matrix;
}

/**
 * Fixed effects with whole aircraft drawn again with replacement, the spreads held: draws × p, row-major. A draw whose
 * columns can't be told apart is drawn again.
 */
export function resampleAircraft(
  data: JointData,
  spread: JointSpread,
  random: Random,
  draws: number,
): Float64Array {
  const p = data.columns;
  const { sums } = aircraftSums(data, spread);
  const all = new Float64Array(draws * p);
  let tries = 0;
  for (let draw = 0; draw < draws && tries < 5 * draws; tries++) {
    const xx = new Float64Array(p * p);
    const xy = new Float64Array(p);
    for (let k = 0; k < sums.length; k++) {
      const one = sums[random.below(sums.length)]!;
      for (let j = 0; j < p * p; j++) xx[j]! += one.xx[j]!;
      for (let j = 0; j < p; j++) xy[j]! += one.xy[j]!;
    }
    if (!xx.every(Number.isFinite)) continue;
    const cholesky = new CholeskyDecomposition(square(xx, p));
    if (!cholesky.isPositiveDefinite()) continue;
    all.set(cholesky.solve(Matrix.columnVector(Array.from(xy))).to1DArray(), draw * p);
    draw++;
  }
  return all;
}

/** Sums over one aircraft of X'V⁻¹X, X'V⁻¹y, y'V⁻¹y. */
interface AircraftSums {
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly xh: Float64Array;
  yy: number;
  hy: number;
  hh: number;
}

const LEAST_LEFT = 1e-10;

/** In place of covariances that were not asked for: a search asks for thousands of values. */
const NONE = Matrix.zeros(0, 0);

/** The fit at given spreads; null where the columns can't be told apart. */
export function jointFitAt(data: JointData, spread: JointSpread, withCovariance: boolean): JointFit | null {
  const p = data.columns;
  const { sums, logDeterminant } = aircraftSums(data, spread);
  const xx = new Float64Array(p * p);
  const xy = new Float64Array(p);
  let yy = 0;
  for (const one of sums) {
    for (let k = 0; k < p * p; k++) xx[k]! += one.xx[k]!;
    for (let k = 0; k < p; k++) xy[k]! += one.xy[k]!;
    yy += one.yy;
  }
  // A spread beyond all measure on the search's way: no fit there.
  if (!xx.every(Number.isFinite) || !Number.isFinite(yy)) return null;
  const information = square(xx, p);
  const cholesky = new CholeskyDecomposition(information);
  if (!cholesky.isPositiveDefinite()) return null;
  const diagonal = cholesky.lowerTriangularMatrix.diagonal();
  // What is left of a column beside those before it: nothing, where it says what they say.
  if (diagonal.some((d, k) => d * d < LEAST_LEFT * xx[k * p + k]!)) return null;
  const fixed = Float64Array.from(cholesky.solve(Matrix.columnVector(Array.from(xy))).to1DArray());
  const rss = yy - fixed.reduce((sum, b, k) => sum + b * xy[k]!, 0);
  const free = data.readings - p;
  if (!(rss > 0)) return null;
  const logInformation = 2 * diagonal.reduce((sum, d) => sum + Math.log(d), 0);
  const residualVariance = rss / free;
  const value = free * Math.log(rss) + logDeterminant + logInformation;
  if (!withCovariance) return { value, fixed, residualVariance, covariance: NONE, clusterCovariance: NONE };
  const inverse = cholesky.solve(Matrix.eye(p));
  return {
    value,
    fixed,
    residualVariance,
    covariance: Matrix.mul(symmetric(inverse), residualVariance),
    clusterCovariance: sandwich(sums, fixed, inverse),
  };
}

function aircraftSums(data: JointData, spread: JointSpread) {
  const p = data.columns;
  const [l, m, n, g] = spread;
  const delta = [l * l, l * m, m * m + n * n] as const;
  const sums: AircraftSums[] = Array.from({ length: data.aircraft }, () => ({
    xx: new Float64Array(p * p),
    xy: new Float64Array(p),
    xh: new Float64Array(p),
    yy: 0,
    hy: 0,
    hh: 0,
  }));
  let logDeterminant = 0;
  for (const component of data.components) {
    logDeterminant += addComponent(sums[component.aircraft]!, component, delta, p);
  }
  const gamma = g * g;
  for (const one of sums) {
    const scale = gamma / (1 + gamma * one.hh);
    logDeterminant += Math.log1p(gamma * one.hh);
    for (let i = 0; i < p; i++) {
      for (let j = 0; j < p; j++) one.xx[i * p + j]! -= scale * one.xh[i]! * one.xh[j]!;
      one.xy[i]! -= scale * one.xh[i]! * one.hy;
    }
    one.yy -= scale * one.hy * one.hy;
  }
  return { sums, logDeterminant };
}

/** Adds a component's X'MX and its kin to its aircraft; answers log|I + AΔ|. */
function addComponent(
  sums: AircraftSums,
  { used, zz, xz, xx, zy, xy, yy }: JointComponent,
  delta: readonly [number, number, number],
  p: number,
): number {
  const [a0, a1, a2] = zz;
  const [d0, d1, d2] = delta;
  const b00 = 1 + a0 * d0 + a1 * d1;
  const b01 = a0 * d1 + a1 * d2;
  const b10 = a1 * d0 + a2 * d1;
  const b11 = 1 + a1 * d1 + a2 * d2;
  const det = b00 * b11 - b01 * b10;
  // W = Δ·B⁻¹, symmetric.
  const w00 = (d0 * b11 - d1 * b10) / det;
  const w01 = (d1 * b00 - d0 * b01) / det;
  const w11 = (d2 * b00 - d1 * b01) / det;
  const [c0, c1] = zy;
  const wc0 = w00 * c0 + w01 * c1;
  const wc1 = w01 * c0 + w11 * c1;
  sums.yy += yy - c0 * wc0 - c1 * wc1;
  sums.hy += c1 - (a1 * wc0 + a2 * wc1);
  // h = Z's second column: W·Z'h.
  const wh0 = w00 * a1 + w01 * a2;
  const wh1 = w01 * a1 + w11 * a2;
  sums.hh += a2 - (a1 * wh0 + a2 * wh1);
  for (const i of used) {
    const z0 = xz[2 * i]!;
    const z1 = xz[2 * i + 1]!;
    const wz0 = w00 * z0 + w01 * z1;
    const wz1 = w01 * z0 + w11 * z1;
    sums.xy[i]! += xy[i]! - (wz0 * c0 + wz1 * c1);
    sums.xh[i]! += z1 - (z0 * wh0 + z1 * wh1);
    for (const j of used) {
      sums.xx[i * p + j]! += xx[i * p + j]! - (wz0 * xz[2 * j]! + wz1 * xz[2 * j + 1]!);
    }
  }
  return Math.log(det);
}

function sandwich(sums: readonly AircraftSums[], fixed: Float64Array, inverse: Matrix): Matrix {
  const p = fixed.length;
  const middle = Matrix.zeros(p, p);
  for (const { xx, xy } of sums) {
    const score = Matrix.columnVector(
      Array.from(xy, (value, i) => value - fixed.reduce((sum, b, j) => sum + xx[i * p + j]! * b, 0)),
    );
    middle.add(score.mmul(score.transpose()));
  }
  const few = sums.length / Math.max(1, sums.length - 1);
  return symmetric(inverse.mmul(middle).mmul(inverse).mul(few));
}

/** A symmetric matrix from a row-major array, rounding differences between its halves taken out. */
const square = (values: Float64Array, p: number): Matrix =>
  symmetric(new Matrix(Array.from({ length: p }, (_, i) => Array.from(values.subarray(i * p, (i + 1) * p)))));

const symmetric = (matrix: Matrix): Matrix => Matrix.add(matrix, matrix.transpose()).mul(0.5);
