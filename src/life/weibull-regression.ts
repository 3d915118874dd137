/**
 * Weibull regression: log life = x'b + sigma W, W standard smallest extreme value; one shape 1/sigma for all rows.
 *
 * exp(b_k) is the ratio of lives for a unit more of column k. Exact, interval-, left- and right-censored lives with late
 * entry and counts. Clusters give sandwich standard errors beside the plain ones.
 * Source: Lawless (2003), Statistical Models and Methods for Lifetime Data, 2nd ed., section 6.3.
 * Checked: tests/life/comparisons.test.ts against R survreg.
 */
import { standardNormalQuantile } from "../math/distributions.ts";
import type { LifeTable } from "../records/life-table.ts";
import { choleskySolver } from "./cholesky.ts";
import { oneLife } from "./one-life.ts";
import { cellsOf, climbRegression, dot, type RegressionPoint } from "./regression-climb.ts";
import { likelihoodAt } from "./weibull-likelihood.ts";

export interface RegressionFit {
  readonly kind: "fitted";
  /** One a column of the design. */
  readonly coefficients: Float64Array;
  readonly standardErrors: Float64Array;
  /** By sandwich over clusters; null where no row names one, or they were not wanted. */
  readonly clusteredErrors: Float64Array | null;
  readonly shape: number;
  readonly logSigmaError: number;
  readonly logLikelihood: number;
}

export type RegressionOutcome = RegressionFit | { readonly kind: "none"; readonly why: string };

/**
 * @param design     one row a life-table row, all of one length; give a column of ones for the intercept
 * @param clustered  whether standard errors by cluster are wanted too
 */
export function fitWeibullRegression(
  table: LifeTable,
  design: readonly (readonly number[])[],
  clustered = true,
): RegressionOutcome {
  const columns = design[0]?.length ?? 0;
  if (design.length !== table.rows || columns === 0)
    throw new RangeError("expected a design row for each life");
  const scaled = scaleColumns(design, columns);
  const start = startPoint(table, scaled.design, columns);
  if (start === null) return { kind: "none", why: "no events to compare" };
  const climbed = climbRegression(cellsOf(table, scaled.design), start);
  if (climbed === null) {
    return {
      kind: "none",
      why: "the likelihood has no single maximum: some group has no events to compare by",
    };
  }
  const covariance = covarianceAt(climbed);
  if (covariance === null) {
    return { kind: "none", why: "the likelihood has no single maximum: the columns can't be told apart" };
  }
  const { top } = climbed;
  const n = columns + 1;
  const back = (errors: Float64Array) => errors.slice(0, columns).map((error, k) => error / scaled.scale[k]!);
  const plain = Float64Array.from({ length: n }, (_, k) => Math.sqrt(covariance[k * n + k]!));
  return {
    kind: "fitted",
    coefficients: coefficientsAt(top).map((value, k) => value / scaled.scale[k]!),
    standardErrors: back(plain),
    clusteredErrors:
      clustered && table.cluster.some((cluster) => cluster >= 0)
        ? back(sandwichErrors(table, scaled.design, top, covariance))
        : null,
    shape: top.shape,
    logSigmaError: plain[columns]!,
    logLikelihood: top.value,
  };
}

/** exp(coefficient) with two-sided bounds from the wider of the plain and the clustered standard error. */
export function lifeRatio(
  fit: RegressionFit,
  column: number,
  confidence: number,
): { ratio: number; lower: number; upper: number } {
  const error = Math.max(fit.standardErrors[column]!, fit.clusteredErrors?.[column] ?? 0);
  const reach = standardNormalQuantile((1 + confidence) / 2) * error;
  const at = fit.coefficients[column]!;
  return { ratio: Math.exp(at), lower: Math.exp(at - reach), upper: Math.exp(at + reach) };
}

/** Of the log life: the log hazard at 1 hour is -shape x'b. */
const coefficientsAt = ({ hazards, shape }: RegressionPoint): Float64Array =>
  hazards.map((hazard) => -hazard / shape);

/** Inverse information of (b, log sigma); null where the top is not one, or flat. */
function covarianceAt(climbed: { top: RegressionPoint; lastStep: Float64Array }): Float64Array | null {
  const { hazards, shape, information } = climbed.top;
  const columns = hazards.length;
  const n = columns + 1;
  const coefficients = coefficientsAt(climbed.top);
  // A step that is long yet gains nothing leads out to where the likelihood only flattens.
  const { lastStep } = climbed;
  const byShape = lastStep[columns]! / shape;
  const last = coefficients.map((b, k) => -lastStep[k]! / shape - b * byShape);
  if (Math.abs(byShape) > 0.5 || last.some((value) => Math.abs(value) > 0.5)) return null;
  // Columns: how (hazards, shape) move with each b, and with log sigma.
  const jacobian = new Float64Array(n * n);
  for (let k = 0; k < columns; k++) {
    jacobian[k * n + k] = -shape;
    jacobian[k * n + columns] = -hazards[k]!;
  }
  jacobian[n * n - 1] = -shape;
  const solve = choleskySolver(congruent(information, jacobian, n), n);
  const covariance = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const column = solve(Float64Array.from({ length: n }, (_, i) => (i === k ? 1 : 0)));
    if (column === null || !(column[k]! > 0) || column[k]! > 1e6) return null;
    for (let i = 0; i < n; i++) covariance[i * n + k] = column[i]!;
  }
  return covariance;
}

/** J' M J, both n x n, row-major. */
function congruent(matrix: Float64Array, jacobian: Float64Array, n: number): Float64Array {
  const product = (a: (i: number, j: number) => number, b: (i: number, j: number) => number) =>
    Float64Array.from({ length: n * n }, (_, at) => {
      const [i, j] = [Math.floor(at / n), at % n];
      let sum = 0;
      for (let k = 0; k < n; k++) sum += a(i, k) * b(k, j);
      return sum;
    });
  const half = product(
    (i, k) => matrix[i * n + k]!,
    (k, j) => jacobian[k * n + j]!,
  );
  return product(
    (i, k) => jacobian[k * n + i]!,
    (k, j) => half[k * n + j]!,
  );
}

/** Columns divided by their greatest size, so that a step of 1 is sensible in each. */
function scaleColumns(
  design: readonly (readonly number[])[],
  columns: number,
): { design: Float64Array[]; scale: Float64Array } {
  const scale = new Float64Array(columns);
  for (const row of design)
    for (let k = 0; k < columns; k++) scale[k] = Math.max(scale[k]!, Math.abs(row[k]!));
  for (let k = 0; k < columns; k++) if (scale[k] === 0) scale[k] = 1;
  return { design: design.map((row) => Float64Array.from(row, (value, k) => value / scale[k]!)), scale };
}

function startPoint(
  table: LifeTable,
  design: readonly Float64Array[],
  columns: number,
): { hazards: Float64Array; shape: number } | null {
  let exposure = 0;
  let events = 0;
  for (let i = 0; i < table.rows; i++) {
    const upper = table.upperHours[i]!;
    exposure += table.count[i]! * (table.lowerHours[i]! - table.entryHours[i]!);
    if (upper < Number.POSITIVE_INFINITY) events += table.count[i]!;
  }
  if (events < 2 || !(exposure > 0)) return null;
  const shape = 1 / 0.7;
  const hazard = shape * Math.log(events / exposure);
  // The intercept alone where there is one.
  const ones = Array.from({ length: columns }, (_, k) => design.every((row) => row[k] === 1)).indexOf(true);
  const hazards = new Float64Array(columns);
  if (ones >= 0) hazards[ones] = hazard;
  else hazards.fill(hazard);
  return { hazards, shape };
}

/** Standard errors by what the rows of each cluster say together. */
function sandwichErrors(
  table: LifeTable,
  design: readonly Float64Array[],
  { hazards, shape }: RegressionPoint,
  covariance: Float64Array,
): Float64Array {
  const columns = hazards.length;
  const n = columns + 1;
  const byCluster = new Map<number, Float64Array>();
  for (let i = 0; i < table.rows; i++) {
    const key = table.cluster[i]! >= 0 ? table.cluster[i]! : -1 - i;
    const sum = byCluster.get(key) ?? new Float64Array(n);
    byCluster.set(key, sum);
    const alpha = dot(hazards, design[i]!);
    const { gradAlpha, gradBeta } = likelihoodAt(oneLife(table, i, 0), alpha, shape);
    const weight = table.count[i]!;
    for (let k = 0; k < columns; k++) sum[k]! -= weight * shape * gradAlpha * design[i]![k]!;
    sum[columns]! -= weight * (alpha * gradAlpha + shape * gradBeta);
  }
  const small = byCluster.size / Math.max(1, byCluster.size - 1);
  const variance = new Float64Array(n);
  for (const each of byCluster.values()) {
    for (let i = 0; i < n; i++) {
      let moved = 0;
      for (let k = 0; k < n; k++) moved += covariance[i * n + k]! * each[k]!;
      variance[i]! += small * moved * moved;
    }
  }
  return variance.map(Math.sqrt);
}
