/** The joint model with aircraft as the sample: its covariance with them as clusters, and whole aircraft drawn again. */
import { choleskyFactor, solveFactored } from "../math/positive-definite.ts";
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
} from "./joint-products.ts";

/** X'V⁻¹X and X'V⁻¹y of each aircraft. */
function aircraftSums(data: JointData, spread: JointSpread): NormalSums[] {
  const products = emptyProducts(data);
  fillProducts(data, spread, products);
  const sums = Array.from({ length: data.aircraft }, () => emptySums(data.columns));
  sumProducts(data, products, spread[3], sums, (aircraft) => aircraft);
  return sums;
}

/** Covariance of the fixed effects with aircraft as clusters (sandwich, G/(G − 1)), p × p row-major. */
export function jointSandwich(
  data: JointData,
  spread: JointSpread,
  { fixed, inverse }: JointFit,
): Float64Array {
  const p = fixed.length;
  const sums = aircraftSums(data, spread);
  const few = sums.length / Math.max(1, sums.length - 1);
  const covariance = new Float64Array(p * p);
  for (const { xx, xy } of sums) {
    // What leaving the aircraft out would do to the fixed effects.
    const score = xy.map((value, i) => fixed.reduce((left, b, j) => left - xx[i * p + j]! * b, value));
    const shift = score.map((_, i) => score.reduce((sum, v, j) => sum + inverse[i * p + j]! * v, 0));
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) covariance[i * p + j]! += few * shift[i]! * shift[j]!;
  }
  return covariance;
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
    const lower = choleskyFactor(xx, p);
    if (lower === null) continue;
    all.set(solveFactored(lower, p, xy), draw * p);
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
