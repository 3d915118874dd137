/**
 * Newton's equations of the nonparametric curve, in the cumulative hazards after each place instead of the steps there. An
 * event then concerns two of them only, those before and after its interval: the curvature is that of a network of
 * conductances between neighbours, with hazard 0 as its ground, and eliminating it costs (neighbours)² a place.
 *
 * Elimination adds conductances and never subtracts, so that no digits are lost however different the steps are.
 * Source: Grassmann, Taksar and Heyman (1985), Operations Research 33, 1107-1116, for elimination without subtraction.
 */

/** Minus the second derivatives of the log-likelihood: `weight` on each sum of the steps from (included) to (excluded). */
export interface SumCurvature {
  readonly from: number;
  readonly to: number;
  readonly weight: number;
}

export interface HazardSystem {
  /** The Newton way of the steps for their slopes; null where it is not finite. */
  readonly way: (slope: Float64Array) => Float64Array | null;
  /** Variance of the cumulative hazard after each place: the diagonal of the inverse. */
  readonly variances: () => Float64Array;
}

/** @param n  places with steps */
export function hazardSystem(curvature: readonly SumCurvature[], n: number): HazardSystem {
  const factor = eliminate(network(curvature, n));
  return {
    way: (slope) => {
      const hazards = solve(factor, slope);
      const way = hazards.map((hazard, k) => hazard - (k > 0 ? hazards[k - 1]! : 0));
      return way.every(Number.isFinite) ? way : null;
    },
    variances: () => Float64Array.from({ length: n }, (_, k) => inverseAt(factor, k)),
  };
}

/** Rows of the upper triangle: what ties node k to k + 1 … reach[k], from start[k] on. */
interface Network {
  readonly n: number;
  readonly reach: Int32Array;
  readonly start: Int32Array;
  readonly between: Float64Array;
  readonly toGround: Float64Array;
}

function network(curvature: readonly SumCurvature[], n: number): Network {
  const reach = new Int32Array(n);
  for (const { from, to } of curvature) if (from > 0) reach[from - 1] = Math.max(reach[from - 1]!, to - 1);
  const start = new Int32Array(n + 1);
  for (let k = 0; k < n; k++) {
    // What is eliminated ties its neighbours to one another: a row reaches as far as the one before.
    reach[k] = Math.max(reach[k]!, k, k > 0 ? reach[k - 1]! : 0);
    start[k + 1] = start[k]! + reach[k]! - k;
  }
  const between = new Float64Array(start[n]!);
  const toGround = new Float64Array(n);
  for (const { from, to, weight } of curvature) {
    if (from === to) continue;
    if (from === 0) toGround[to - 1]! += weight;
    else between[start[from - 1]! + to - 1 - from]! += weight;
  }
  return { n, reach, start, between, toGround };
}

/** `between` holds the share of each tie in its node's pivot. */
interface Factor extends Omit<Network, "toGround"> {
  readonly pivot: Float64Array;
}

function eliminate({ n, reach, start, between, toGround }: Network): Factor {
  const pivot = new Float64Array(n);
  // A place that no event tells from the next is held by next to nothing, and may go far.
  const least =
    1e-14 * Math.max(...[between, toGround].map((all) => all.reduce((a, b) => Math.max(a, b), 0)));
  for (let k = 0; k < n; k++) {
    const [row, end] = [start[k]!, start[k + 1]!];
    let sum = toGround[k]!;
    for (let at = row; at < end; at++) sum += between[at]!;
    pivot[k] = sum > 0 ? sum : least;
    for (let at = row; at < end; at++) {
      const share = between[at]! / pivot[k]!;
      if (share === 0) continue;
      const neighbour = k + 1 + at - row;
      toGround[neighbour]! += share * toGround[k]!;
      const to = start[neighbour]! - at - 1;
      for (let other = at + 1; other < end; other++) between[to + other]! += share * between[other]!;
    }
    for (let at = row; at < end; at++) between[at] = between[at]! / pivot[k]!;
  }
  return { n, reach, start, between, pivot };
}

/** Cumulative hazards for slopes by the steps. */
function solve({ n, start, between, pivot }: Factor, slope: Float64Array): Float64Array {
  const x = slope.map((value, k) => value - (k + 1 < n ? slope[k + 1]! : 0));
  for (let k = 0; k < n; k++) {
    const first = k + 1 - start[k]!;
    for (let at = start[k]!; at < start[k + 1]!; at++) x[first + at]! += between[at]! * x[k]!;
    x[k]! /= pivot[k]!;
  }
  for (let k = n - 1; k >= 0; k--) {
    const first = k + 1 - start[k]!;
    for (let at = start[k]!; at < start[k + 1]!; at++) x[k]! += between[at]! * x[first + at]!;
  }
  return x;
}

/** One diagonal element of the inverse: only what comes after it has a part in it. */
function inverseAt({ n, start, between, pivot }: Factor, node: number): number {
  const x = new Float64Array(n);
  x[node] = 1;
  let sum = 0;
  for (let k = node; k < n; k++) {
    const value = x[k]!;
    if (value === 0) continue;
    sum += (value * value) / pivot[k]!;
    const first = k + 1 - start[k]!;
    for (let at = start[k]!; at < start[k + 1]!; at++) x[first + at]! += between[at]! * value;
  }
  return sum;
}
