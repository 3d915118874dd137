/**
 * Environments and standards compared in one model, so that a component that moved contributes its hours to each:
 *
 *   wear = a(standard) + Σ b(environment, standard)·hours flown so + u + v·hours + aircraft·hours + e
 *
 * with u, v by component (full covariance) and a slope by aircraft, by REML. Each rate is adjusted for the others and
 * for aircraft. Where rates differ severalfold, so do their spreads: with `slopes: "in proportion"` an hour counts in v
 * and in the aircraft's slope as much as the rate of its environment and standard is of the mean rate. Bounds use the model's covariance or that with aircraft as clusters, whichever is wider, and Student's t
 * with aircraft − 1 degrees of freedom.
 */
import { studentQuantile } from "../math/distributions.ts";
import { minimiseWithGradient } from "../math/minimise.ts";
import type { Random } from "../math/random.ts";
import { jointSandwich, resampleAircraft } from "./joint-aircraft.ts";
import { type JointFit, jointCriterion } from "./joint-criterion.ts";
import { type JointData, jointData, weighted } from "./joint-data.ts";
import type { JointSpread } from "./joint-products.ts";
import { crudeRelativeRates, plausibleSpread, relativeRates, START, slopeUnit } from "./joint-start.ts";
import { type Cell, cellsOf, type JointTable } from "./joint-table.ts";
import { type RateRatio, ratioBounds } from "./rate-ratio.ts";

export interface JointRate {
  readonly environment: string;
  readonly standard: string;
  /** Hours flown so by the components up to their last readings. */
  readonly hours: number;
  readonly rateMmPer1000Hours: number;
  /** The wider of the model's and that with aircraft as clusters. */
  readonly standardError: number;
  readonly modelStandardError: number;
  readonly lower: number;
  readonly upper: number;
}

export interface JointModel {
  readonly kind: "fitted";
  readonly readings: number;
  readonly components: number;
  readonly aircraft: number;
  readonly rates: readonly JointRate[];
  readonly interceptMm: readonly { readonly standard: string; readonly estimate: number }[];
  readonly componentSd: { readonly interceptMm: number; readonly rateMmPer1000Hours: number };
  readonly aircraftRateSd: number;
  readonly measurementSdMm: number;
  readonly logLikelihood: number;
  /** rates[i] over rates[j], two-sided bounds. */
  ratio(i: number, j: number): RateRatio;
  /** Rates with whole aircraft drawn again (spreads held): draws × rates, row-major. */
  resampledRates(random: Random, draws: number): Float64Array;
}

export type JointModelResult = JointModel | { readonly kind: "not-fitted"; readonly why: string };

export interface JointOptions {
  /** Two-sided. __Default value:__ 0.95 */
  readonly confidence?: number;
  /** How slopes of components and aircraft scale with the rate where they fly. __Default value:__ "alike" */
  readonly slopes?: "alike" | "in proportion";
}

/**
 * Fits the joint model.
 *
 * @returns the fit, or why there is none: fewer than three aircraft, cells that can't be told apart, no scatter
 */
export function fitJointModel(table: JointTable, options: JointOptions = {}): JointModelResult {
  const { confidence = 0.95, slopes = "alike" } = options;
  const cells = cellsOf(table);
  const alike = jointData(table, cells);
  if (slopes === "alike") {
    const found = searchSpreads(alike, START, 1e-12);
    return "why" in found
      ? { kind: "not-fitted", why: found.why }
      : described(table, cells, found, confidence);
  }
  const rateOf = (fit: JointFit) => (k: number) => fit.fixed[table.standards.length + k]!;
  const withRelative = (rates: Float64Array) =>
    weighted(alike, Float64Array.of(...table.standards.map(() => 0), ...rates));
  let relative = crudeRelativeRates(table, cells);
  // Rates at plausible spreads are near enough to begin with, and cost no search.
  for (let round = 1; round <= 2; round++) {
    const data = withRelative(relative);
    const rough = jointCriterion(data).fitAt(plausibleSpread(data));
    if (rough !== null) relative = relativeRates(cells, rateOf(rough));
  }
  // What a place with few hours weighs hardly matters, and is hardly known.
  const few = LEAST_SHARE * cells.reduce((sum, { hours }) => sum + hours, 0);
  let from: ArrayLike<number> = START;
  for (let round = 1; ; round++) {
    const found = searchSpreads(withRelative(relative), from, 1e-6);
    if ("why" in found) return { kind: "not-fitted", why: found.why };
    const next = relativeRates(cells, rateOf(found.fit));
    const change = next.reduce(
      (most, one, k) => (cells[k]!.hours < few ? most : Math.max(most, Math.abs(one / relative[k]! - 1))),
      0,
    );
    // What an hour weighs is a weight only.
    if (change < 0.1 || round === MOST_ROUNDS) return described(table, cells, found, confidence);
    relative = next;
    from = found.at;
  }
}

const MOST_ROUNDS = 4;
const LEAST_SHARE = 0.02;
interface Search {
  readonly data: JointData;
  readonly at: Float64Array;
  readonly spread: JointSpread;
  readonly fit: JointFit;
}

function searchSpreads(
  data: JointData,
  from: ArrayLike<number>,
  tolerance: number,
): Search | { why: string } {
  if (data.aircraft < 3) return { why: `${data.aircraft} aircraft; 3 are needed` };
  if (data.readings - data.components - data.columns < 1)
    return { why: "too few readings for the environments and standards compared" };
  const criterion = jointCriterion(data);
  const start = criterion.fitAt([0.5, 0, 0.5, 0.2]);
  if (start === null) return { why: "environments and standards can't be told apart in these readings" };
  const unit = Math.max(1, slopeUnit(data, start.residualVariance));
  const spreadOf = (x: Float64Array): JointSpread => [x[0]!, x[1]! * unit, x[2]! * unit, x[3]! * unit];
  // Per reading, so that the criterion is of order 1 however many there are.
  const cost = (x: Float64Array, gradient: Float64Array) => {
    const value = criterion.evaluate(spreadOf(x), gradient);
    for (let k = 0; k < gradient.length; k++) gradient[k]! *= (k === 0 ? 1 : unit) / data.readings;
    return value / data.readings;
  };
  const { at } = minimiseWithGradient(cost, from, { tolerance, maxIterations: 200 });
  const fit = criterion.fitAt(spreadOf(at));
  if (fit === null) return { why: "the search for the spreads did not end" };
  return { data, at, spread: spreadOf(at), fit };
}

function described(
  table: JointTable,
  cells: readonly Cell[],
  { data, spread, fit }: Search,
  confidence: number,
): JointModel {
  const [l, m, n, g] = spread;
  const sigma = Math.sqrt(fit.residualVariance);
  const intercepts = table.standards.length;
  const t = studentQuantile(0.5 + confidence / 2, data.aircraft - 1);
  const covariance = fit.inverse.map((value) => value * fit.residualVariance);
  const clusterCovariance = jointSandwich(data, spread, fit);
  const variance = (weights: (k: number) => number) =>
    Math.max(
      quadratic(covariance, data.columns, weights),
      quadratic(clusterCovariance, data.columns, weights),
    );
  const rates = cells.map((cell, k): JointRate => {
    const rate = fit.fixed[intercepts + k]!;
    const standardError = Math.sqrt(variance((j) => (j === intercepts + k ? 1 : 0)));
    return {
      environment: table.environments[cell.environment]!,
      standard: table.standards[cell.standard]!,
      hours: cell.hours,
      rateMmPer1000Hours: rate,
      standardError,
      modelStandardError: Math.sqrt(covariance[(intercepts + k) * (data.columns + 1)]!),
      lower: rate - t * standardError,
      upper: rate + t * standardError,
    };
  });
  const free = data.readings - data.columns;
  return {
    kind: "fitted",
    readings: data.readings,
    components: data.components,
    aircraft: data.aircraft,
    rates,
    interceptMm: table.standards.map((standard, k) => ({ standard, estimate: fit.fixed[k]! })),
    componentSd: { interceptMm: sigma * Math.abs(l), rateMmPer1000Hours: sigma * Math.hypot(m, n) },
    aircraftRateSd: sigma * Math.abs(g),
    measurementSdMm: sigma,
    logLikelihood: -0.5 * (fit.value + free * (1 + Math.log(2 * Math.PI) - Math.log(free))),
    resampledRates: (random, draws) => {
      const fixed = resampleAircraft(data, spread, random, draws);
      return fixed.filter((_, k) => k % data.columns >= intercepts);
    },
    ratio: (i, j) => {
      const pick = (one: number, other: number) => (k: number) =>
        (k === intercepts + i ? one : 0) + (k === intercepts + j ? other : 0);
      return ratioBounds(
        rates[i]!.rateMmPer1000Hours,
        rates[j]!.rateMmPer1000Hours,
        (ratio) => variance(pick(1, -ratio)),
        t,
      );
    },
  };
}

/** w'·A·w of a row-major matrix. */
function quadratic(matrix: Float64Array, columns: number, w: (k: number) => number): number {
  let sum = 0;
  for (let i = 0; i < columns; i++) {
    const wi = w(i);
    if (wi === 0) continue;
    for (let j = 0; j < columns; j++) sum += wi * w(j) * matrix[i * columns + j]!;
  }
  return sum;
}
