/**
 * The search for the best relative covariance Δ = L·L', and the naming of the boundary it may lie on.
 */
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { centralHessian, minimise } from "../math/minimise.ts";
import type { ComponentSums } from "./component-sums.ts";
import type { Boundary } from "./mixed-model.ts";
import { type CrossProducts, criterionAt, type Symmetric } from "./reml-criterion.ts";

/** The fit in hours (h − centre)/scale. */
export interface Covariance {
  readonly relative: Symmetric;
  readonly residualVariance: number;
  readonly fixed: readonly [number, number];
  readonly fixedCovariance: Symmetric;
  readonly logLikelihood: number;
  readonly boundary: Boundary;
}

export type CovarianceSearch =
  | { readonly kind: "found"; readonly covariance: Covariance; readonly iterations: number }
  | { readonly kind: "not-converged"; readonly iterations: number; readonly why: string };

/** A candidate: entries of L in units of the start, and the criterion there. */
interface Candidate {
  readonly boundary: Boundary;
  readonly relative: Symmetric;
  readonly value: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/**
 * Searches the full covariance and the reduced ones, and keeps the simplest whose likelihood is not worse.
 *
 * A reduced model that reaches the full one's criterion to 1e-7 is the same optimum seen from its boundary.
 */
export function fitRelativeCovariance(sums: ComponentSums, data: CrossProducts): CovarianceSearch {
  const pooled = criterionAt(data, [0, 0, 0]);
  if (!(data.total > 1e-24 * wearSize(sums))) {
    return { kind: "not-converged", iterations: 0, why: "the readings lie on one line: there is no scatter" };
  }
  const start = startingTriangle(sums, data);
  const [l00, l10, l11] = start;
  const origin = data.centreHours / data.scaleHours;
  const anyTriangle = ([l, m, n]: readonly number[]) => [l!, m!, n!] as const;
  const first = search(data, "none", start, anyTriangle);
  // Where that stalls, once more from the middle of the table: spreads as large as the scatter.
  const full = first.converged ? first : search(data, "none", [1, 0.5, 1], anyTriangle);
  const candidates = [
    { boundary: "no component variance" as const, relative: [0, 0, 0] as Symmetric, value: pooled.value },
    search(data, "no slope variance", [l00], ([l]) => [l!, 0, 0]),
    // Paths that all start at one point: at the centre they differ by origin times their slopes.
    search(data, "no intercept variance", [Math.hypot(l10, l11)], ([m]) => [origin * m!, m!, 0]),
    search(data, "correlation +1", [l00, l10], ([l, m]) => [l!, m!, 0]),
  ];
  const iterations = full.iterations;
  // The widest search may stop early on a flat edge: the best of all is what counts.
  const best = Math.min(full.value, ...candidates.map((candidate) => candidate.value));
  const simple = candidates.find((candidate) => candidate.value <= best + 1e-7);
  if (simple === undefined && !full.converged) {
    return {
      kind: "not-converged",
      iterations,
      why: "the search for the spread of the components did not end",
    };
  }
  const chosen = simple ?? full;
  return { kind: "found", covariance: finish(data, chosen.relative, chosen.boundary), iterations };
}

/**
 * Searches the triangular L = triangleOf(entries), entries from the given start and in its units (so that the
 * variables stay near 1, whatever the ratio of spread to scatter). triangleOf is linear.
 */
function search(
  data: CrossProducts,
  boundary: Boundary,
  unit: readonly number[],
  triangleOf: (entries: readonly number[]) => readonly [number, number, number],
): Candidate {
  const triangle = (x: ArrayLike<number>) => triangleOf(Array.from(unit, (u, k) => u * x[k]!));
  const columns = unit.map((_, k) => triangle(unit.map((__, j) => (j === k ? 1 : 0))));
  const relativeOf = (x: Float64Array): Symmetric => {
    const [l, m, n] = triangle(x);
    return [l * l, l * m, m * m + n * n];
  };
  // Per reading, so that the criterion is of order 1 however many there are.
  const value = (x: Float64Array) => criterionAt(data, relativeOf(x)).value / data.readings;
  const gradient = (x: Float64Array) => {
    const [l, m, n] = triangle(x);
    const [g0, g1, g2] = criterionAt(data, relativeOf(x)).gradient;
    const inL = [2 * l * g0 + m * g1, l * g1 + 2 * m * g2, 2 * n * g2];
    return Float64Array.from(
      columns,
      (column) => column.reduce((sum, entry, k) => sum + entry * inL[k]!, 0) / data.readings,
    );
  };
  const found = minimise(
    value,
    unit.map(() => 1),
    { gradient, tolerance: 1e-12, maxIterations: 200 },
  );
  const at = polish(found.at, gradient);
  return {
    boundary,
    relative: relativeOf(at),
    value: value(at) * data.readings,
    iterations: found.iterations,
    // A search can stop for want of digits where no slope is left: that is an optimum all the same.
    converged: found.kind === "found" || gradient(at).every((g) => Math.abs(g) < 1e-7),
  };
}

/** Newton steps on the gradient: the search stops where the criterion no longer shows a difference, this goes on. */
function polish(from: Float64Array, gradient: (x: Float64Array) => Float64Array): Float64Array {
  let at = from;
  for (let step = 0; step < 2; step++) {
    const slope = gradient(at);
    const hessian = centralHessian(() => Number.NaN, at, gradient);
    const n = at.length;
    const move = solvePositive(
      Array.from({ length: n }, (_, i) => hessian.slice(i * n, (i + 1) * n)),
      slope,
    );
    if (move === null || move.some((d) => !(Math.abs(d) < 0.05))) return at;
    at = at.map((x, i) => x - move[i]!);
  }
  return at;
}

/** Solution of a small positive definite system; null where the matrix is not clearly one. */
function solvePositive(matrix: Float64Array[], right: Float64Array): Float64Array | null {
  const cholesky = new CholeskyDecomposition(new Matrix(matrix.map((row) => Array.from(row))));
  if (!cholesky.isPositiveDefinite()) return null;
  return Float64Array.from(cholesky.solve(Matrix.columnVector(Array.from(right))).to1DArray());
}

function finish(data: CrossProducts, relative: Symmetric, boundary: Boundary): Covariance {
  const at = criterionAt(data, relative);
  const free = data.readings - 2;
  const residualVariance = at.residual / free;
  const [g0, g1, g2] = at.information;
  const det = g0 * g2 - g1 * g1;
  return {
    relative,
    residualVariance,
    fixed: [at.fixed[0] + data.line[0], at.fixed[1] + data.line[1]],
    fixedCovariance: [
      (residualVariance * g2) / det,
      (-residualVariance * g1) / det,
      (residualVariance * g0) / det,
    ],
    // −2ℓ = (N−2)(log 2π + 1 + log σ̂²) + Σlog|I + AΔ| + log|X'MX|, σ̂² = y'My/(N−2).
    logLikelihood: -0.5 * (at.value + free * (1 + Math.log(2 * Math.PI) - Math.log(free))),
    boundary,
  };
}

/**
 * A start for L: the covariance of the components' own lines (intercept at the centre, slope), less what their
 * scatter alone would give, in units of the scatter. Only a start, but a near one: the entries of L can differ a
 * hundredfold, since the intercept at the centre is mostly the slope's doing.
 */
function startingTriangle(sums: ComponentSums, data: CrossProducts): [number, number, number] {
  let within = 0;
  let free = 0;
  const lines: { at: number; slope: number; noise: Symmetric }[] = [];
  for (let i = 0; i < sums.components; i++) {
    const n = sums.count[i]!;
    const hh = sums.hoursSquared[i]! / data.scaleHours ** 2;
    if (!(hh > 0) || n < 3) continue;
    const mean = (sums.meanHours[i]! - data.centreHours) / data.scaleHours;
    const slope = sums.hoursWear[i]! / data.scaleHours / hh;
    lines.push({
      at: sums.meanWearMm[i]! - slope * mean,
      slope,
      noise: [1 / n + mean ** 2 / hh, -mean / hh, 1 / hh],
    });
    within += Math.max(0, sums.wearSquared[i]! - slope ** 2 * hh);
    free += n - 2;
  }
  const scatter = Math.sqrt(free > 0 ? within / free : 0);
  if (!(scatter > 0) || lines.length < 2) return [1, 0.5, 1];
  const average = (f: (line: (typeof lines)[number]) => number) =>
    lines.reduce((sum, line) => sum + f(line), 0) / lines.length;
  const at = average((line) => line.at);
  const slope = average((line) => line.slope);
  const spread = (raw: number, noise: number) => Math.max(raw / scatter ** 2 - noise, 0.02 * noise, 1e-8);
  const d00 = spread(
    average((line) => (line.at - at) ** 2),
    average((line) => line.noise[0]),
  );
  const d11 = spread(
    average((line) => (line.slope - slope) ** 2),
    average((line) => line.noise[2]),
  );
  const covariance = average((line) => (line.at - at) * (line.slope - slope));
  const d01 = covariance / scatter ** 2 - average((line) => line.noise[1]);
  const correlation = Math.max(-0.9999, Math.min(0.9999, d01 / Math.sqrt(d00 * d11)));
  const l10 = correlation * Math.sqrt(d11);
  return [
    Math.sqrt(d00),
    Math.abs(l10) < 0.01 * Math.sqrt(d11) ? 0.01 * Math.sqrt(d11) : l10,
    Math.sqrt(d11 * (1 - correlation ** 2)),
  ];
}

function wearSize(sums: ComponentSums): number {
  let size = 0;
  for (let i = 0; i < sums.components; i++) {
    size += sums.wearSquared[i]! + sums.count[i]! * sums.meanWearMm[i]! ** 2;
  }
  return size;
}
