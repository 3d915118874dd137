/**
 * Weibull regression: log life = x'b + sigma W, W standard smallest extreme value; one shape 1/sigma for all rows.
 *
 * exp(b_k) is the ratio of lives for a unit more of column k. Exact, interval-, left- and right-censored lives with late
 * entry and counts. Clusters give sandwich standard errors beside the plain ones.
 * Source: Lawless (2003), Statistical Models and Methods for Lifetime Data, 2nd ed., section 6.3.
 * Checked: tests/life/comparisons.test.ts against R survreg.
 */
import { standardNormalQuantile } from "../math/distributions.ts";
import { minimise } from "../math/minimise.ts";
import type { LifeTable } from "../records/life-table.ts";
import { choleskySolver } from "./cholesky.ts";

export interface RegressionFit {
  readonly kind: "fitted";
  /** One a column of the design. */
  readonly coefficients: Float64Array;
  readonly standardErrors: Float64Array;
  /** By sandwich over clusters; null where no row names one. */
  readonly clusteredErrors: Float64Array | null;
  readonly shape: number;
  readonly logSigmaError: number;
  readonly logLikelihood: number;
}

export type RegressionOutcome = RegressionFit | { readonly kind: "none"; readonly why: string };

/** @param design  one row a life-table row, all of one length; give a column of ones for the intercept */
export function fitWeibullRegression(
  table: LifeTable,
  design: readonly (readonly number[])[],
): RegressionOutcome {
  const columns = design[0]?.length ?? 0;
  if (design.length !== table.rows || columns === 0)
    throw new RangeError("expected a design row for each life");
  const scaled = scaleColumns(design, columns);
  const start = startPoint(table, scaled.design, columns);
  if (start === null) return { kind: "none", why: "no events to compare" };
  const n = columns + 1;
  const gradientAt = (x: Float64Array) => score(table, scaled.design, x).map((value) => -value);
  const cost = (x: Float64Array) => -logLikelihood(table, scaled.design, x);
  const end = minimise(cost, start, { gradient: gradientAt });
  const size = gradientAt(end.at).reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (size > 1e-4 * table.rows || !end.at.every(Number.isFinite) || Math.abs(end.at[columns]!) > 12) {
    return {
      kind: "none",
      why: "the likelihood has no single maximum: some group has no events to compare by",
    };
  }
  const { at, covariance } = polish(end.at, gradientAt, n);
  if (covariance === null) {
    return { kind: "none", why: "the likelihood has no single maximum: the columns can't be told apart" };
  }
  const back = (errors: Float64Array) => errors.slice(0, columns).map((error, k) => error / scaled.scale[k]!);
  const plain = Float64Array.from({ length: n }, (_, k) => Math.sqrt(covariance[k * n + k]!));
  return {
    kind: "fitted",
    coefficients: at.slice(0, columns).map((value, k) => value / scaled.scale[k]!),
    standardErrors: back(plain),
    clusteredErrors: table.cluster.some((cluster) => cluster >= 0)
      ? back(sandwichErrors(table, scaled.design, at, covariance))
      : null,
    shape: Math.exp(-at[columns]!),
    logSigmaError: plain[columns]!,
    logLikelihood: logLikelihood(table, scaled.design, at),
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

/** Newton's last steps with the numerical Hessian, and its inverse; null where it isn't positive definite. */
function polish(
  start: Float64Array,
  gradientAt: (x: Float64Array) => Float64Array,
  n: number,
): { at: Float64Array; covariance: Float64Array | null } {
  let at = start;
  for (let i = 0; i < 3; i++) {
    const solve = choleskySolver(hessianAt(at, gradientAt), n);
    const step = solve(gradientAt(at));
    if (step === null) return { at, covariance: null };
    if (step.some((value) => Math.abs(value) > 0.5)) return { at, covariance: null };
    at = at.map((value, k) => value - step[k]!);
  }
  const hessian = hessianAt(at, gradientAt);
  const solve = choleskySolver(hessian, n);
  const covariance = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const column = solve(Float64Array.from({ length: n }, (_, i) => (i === k ? 1 : 0)));
    if (column === null || !(column[k]! > 0) || column[k]! > 1e6) return { at, covariance: null };
    for (let i = 0; i < n; i++) covariance[i * n + k] = column[i]!;
  }
  return { at, covariance };
}

/** Differences of the exact gradient; steps of 1e-5, since a coefficient here stands against a sigma well below 1. */
function hessianAt(at: Float64Array, gradientAt: (x: Float64Array) => Float64Array): Float64Array {
  const n = at.length;
  const raw = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const h = 1e-5;
    const above = gradientAt(at.map((value, k) => (k === i ? value + h : value)));
    const below = gradientAt(at.map((value, k) => (k === i ? value - h : value)));
    for (let j = 0; j < n; j++) raw[i * n + j] = (above[j]! - below[j]!) / (2 * h);
  }
  return raw.map((value, k) => (value + raw[(k % n) * n + Math.floor(k / n)]!) / 2);
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

function startPoint(table: LifeTable, design: Float64Array[], columns: number): Float64Array | null {
  let exposure = 0;
  let events = 0;
  for (let i = 0; i < table.rows; i++) {
    const upper = table.upperHours[i]!;
    exposure += table.count[i]! * (table.lowerHours[i]! - table.entryHours[i]!);
    if (upper < Number.POSITIVE_INFINITY) events += table.count[i]!;
  }
  if (events < 2 || !(exposure > 0)) return null;
  const start = new Float64Array(columns + 1);
  // All of the mean on a column of ones, where there is one.
  const ones = Array.from({ length: columns }, (_, k) => design.every((row) => row[k] === 1)).indexOf(true);
  if (ones >= 0) start[ones] = Math.log(exposure / events);
  else start.fill(Math.log(exposure / events), 0, columns);
  start[columns] = Math.log(0.7);
  return start;
}

function logLikelihood(table: LifeTable, design: Float64Array[], x: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < table.rows; i++) sum += table.count[i]! * rowTerms(table, i, design[i]!, x).value;
  return Number.isNaN(sum) ? Number.NEGATIVE_INFINITY : sum;
}

function score(table: LifeTable, design: Float64Array[], x: Float64Array): Float64Array {
  const total = new Float64Array(x.length);
  for (let i = 0; i < table.rows; i++) addScore(total, table, i, design[i]!, x, table.count[i]!);
  return total;
}

function addScore(
  total: Float64Array,
  table: LifeTable,
  row: number,
  design: Float64Array,
  x: Float64Array,
  weight: number,
): void {
  const columns = x.length - 1;
  const { byMu, byLogSigma } = rowTerms(table, row, design, x);
  for (let k = 0; k < columns; k++) total[k]! += weight * byMu * design[k]!;
  total[columns]! += weight * byLogSigma;
}

/** One life's log-likelihood and its derivatives by mu = x'b and log sigma; z = (log t - mu)/sigma, H = e^z. */
function rowTerms(
  table: LifeTable,
  row: number,
  design: Float64Array,
  x: Float64Array,
): { value: number; byMu: number; byLogSigma: number } {
  const columns = x.length - 1;
  let mu = 0;
  for (let k = 0; k < columns; k++) mu += x[k]! * design[k]!;
  const sigma = Math.exp(x[columns]!);
  const hazard = (hours: number) => (hours > 0 ? Math.exp((Math.log(hours) - mu) / sigma) : 0);
  const z = (hours: number) => (hours > 0 ? (Math.log(hours) - mu) / sigma : 0);
  const lower = table.lowerHours[row]!;
  const upper = table.upperHours[row]!;
  const entry = table.entryHours[row]!;
  const [hEntry, hLower] = [hazard(entry), hazard(lower)];
  // dH/dmu = -H/sigma, dH/dlogSigma = -z H.
  let value = hEntry - hLower;
  let byMu = (hLower - hEntry) / sigma;
  let byLogSigma = z(lower) * hLower - z(entry) * hEntry;
  if (lower === upper) {
    value += z(lower) - x[columns]! - Math.log(lower);
    byMu -= 1 / sigma;
    byLogSigma += -z(lower) - 1;
  } else if (upper < Number.POSITIVE_INFINITY) {
    const hUpper = hazard(upper);
    const d = hUpper - hLower;
    const each = d > 700 ? 0 : 1 / Math.expm1(d);
    value += d < 1e-300 ? Number.NEGATIVE_INFINITY : Math.log(-Math.expm1(-d));
    byMu -= (each * d) / sigma;
    byLogSigma -= d > 700 ? 0 : each * (z(upper) * hUpper - z(lower) * hLower);
  }
  return { value, byMu, byLogSigma };
}

function sandwichErrors(
  table: LifeTable,
  design: Float64Array[],
  at: Float64Array,
  covariance: Float64Array,
): Float64Array {
  const n = at.length;
  const byCluster = new Map<number, Float64Array>();
  for (let i = 0; i < table.rows; i++) {
    const key = table.cluster[i]! >= 0 ? table.cluster[i]! : -1 - i;
    const sum = byCluster.get(key) ?? new Float64Array(n);
    byCluster.set(key, sum);
    addScore(sum, table, i, design[i]!, at, table.count[i]!);
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
