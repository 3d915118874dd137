/** The joint model with aircraft as the sample: its covariance with them as clusters, and whole aircraft drawn again. */
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { Random } from "../math/random.ts";
import type { JointFit } from "./joint-criterion.ts";
import type { JointData } from "./joint-data.ts";
import {
  emptyProducts,
  emptySums,
  fillProducts,
  type JointSpread,
  type NormalSums,
  sumProducts,
  symmetric,
  symmetricFrom,
} from "./joint-products.ts";

/** X'V⁻¹X and X'V⁻¹y of each aircraft. */
function aircraftSums(data: JointData, spread: JointSpread): NormalSums[] {
  const products = emptyProducts(data);
  fillProducts(data, spread, products);
  const sums = Array.from({ length: data.aircraft }, () => emptySums(data.columns));
  sumProducts(data, products, spread[3], sums, (aircraft) => aircraft);
  return sums;
}

/** Covariance of the fixed effects with aircraft as clusters (sandwich, G/(G − 1)). */
export function jointSandwich(data: JointData, spread: JointSpread, { fixed, inverse }: JointFit): Matrix {
  const p = fixed.length;
  const sums = aircraftSums(data, spread);
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

/** An aircraft's sums in the few columns in which it has anything. */
interface OwnSums {
  readonly columns: readonly number[];
  readonly xx: Float64Array;
  readonly xy: Float64Array;
}

function ownSums({ xx, xy }: NormalSums): OwnSums {
  const p = xy.length;
  const columns = Array.from(xy.keys()).filter((k) => xx[k * p + k] !== 0);
  return {
    columns,
    xx: Float64Array.from(columns.flatMap((i) => columns.map((j) => xx[i * p + j]!))),
    xy: Float64Array.from(columns, (i) => xy[i]!),
  };
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
  const sums = aircraftSums(data, spread).map(ownSums);
  const all = new Float64Array(draws * p);
  let tries = 0;
  for (let draw = 0; draw < draws && tries < 5 * draws; tries++) {
    const { xx, xy } = emptySums(p);
    const times = new Float64Array(sums.length);
    for (let k = 0; k < sums.length; k++) times[random.below(sums.length)]!++;
    for (let k = 0; k < sums.length; k++) if (times[k]! > 0) addTimes(sums[k]!, times[k]!, xx, xy);
    if (!xx.every(Number.isFinite)) continue;
    const cholesky = new CholeskyDecomposition(symmetricFrom(xx, p));
    if (!cholesky.isPositiveDefinite()) continue;
    all.set(cholesky.solve(Matrix.columnVector(Array.from(xy))).to1DArray(), draw * p);
    draw++;
  }
  return all;
}

function addTimes(own: OwnSums, times: number, xx: Float64Array, xy: Float64Array): void {
  const size = own.columns.length;
  for (let a = 0; a < size; a++) {
    const row = own.columns[a]! * xy.length;
    xy[own.columns[a]!]! += times * own.xy[a]!;
    for (let b = 0; b < size; b++) xx[row + own.columns[b]!]! += times * own.xx[a * size + b]!;
  }
}
