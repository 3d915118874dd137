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
  const sums = aircraftSums(data, spread);
  const all = new Float64Array(draws * p);
  let tries = 0;
  for (let draw = 0; draw < draws && tries < 5 * draws; tries++) {
    const { xx, xy } = emptySums(p);
    for (let k = 0; k < sums.length; k++) {
      const one = sums[random.below(sums.length)]!;
      for (let j = 0; j < p * p; j++) xx[j]! += one.xx[j]!;
      for (let j = 0; j < p; j++) xy[j]! += one.xy[j]!;
    }
    if (!xx.every(Number.isFinite)) continue;
    const cholesky = new CholeskyDecomposition(symmetricFrom(xx, p));
    if (!cholesky.isPositiveDefinite()) continue;
    all.set(cholesky.solve(Matrix.columnVector(Array.from(xy))).to1DArray(), draw * p);
    draw++;
  }
  return all;
}
