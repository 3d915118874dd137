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
import { minimise } from "../math/minimise.ts";
import type { Random } from "../math/random.ts";
import {
  type JointData,
  type JointFit,
  type JointSpread,
  jointFitAt,
  resampleAircraft,
} from "./joint-criterion.ts";
import { type Cell, cellsOf, type JointTable, jointData } from "./joint-table.ts";

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

/** One rate over another; a bound that does not exist is null. */
export interface RateRatio {
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
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
  if (slopes === "alike") {
    const found = searchSpreads(jointData(table, cells), START, 1e-12);
    return "why" in found
      ? { kind: "not-fitted", why: found.why }
      : described(table, cells, found, confidence);
  }
  const rateOf = (fit: JointFit) => (k: number) => fit.fixed[table.standards.length + k]!;
  let relative = crudeRelativeRates(table, cells);
  // Rates at plausible spreads are near enough to begin with, and cost no search.
  for (let round = 1; round <= 2; round++) {
    const data = jointData(table, cells, relative);
    const rough = jointFitAt(data, plausibleSpread(data), false);
    if (rough !== null) relative = relativeRates(cells, rateOf(rough));
  }
  // What a place with few hours weighs hardly matters, and is hardly known.
  const few = LEAST_SHARE * cells.reduce((sum, { hours }) => sum + hours, 0);
  let from: ArrayLike<number> = START;
  for (let round = 1; ; round++) {
    const found = searchSpreads(jointData(table, cells, relative), from, 1e-6);
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

const START = [0.5, 0.1, 0.5, 0.3] as const;
const MOST_ROUNDS = 4;
const LEAST_SHARE = 0.02;
/** An hour weighs at least this share of a mean one: a rate that shows no rise still has a spread. */
const LEAST_RELATIVE = 0.05;

/** Rates over their mean by hours. */
function relativeRates(cells: readonly Cell[], rateOf: (cell: number) => number): Float64Array {
  const hours = cells.reduce((sum, cell) => sum + cell.hours, 0);
  const mean = cells.reduce((sum, cell, k) => sum + cell.hours * Math.max(0, rateOf(k)), 0) / hours;
  return Float64Array.from(cells, (_, k) => (mean > 0 ? Math.max(LEAST_RELATIVE, rateOf(k) / mean) : 1));
}

/** Components that differ by as much as their slopes do, and aircraft by a third of it. */
function plausibleSpread(data: JointData): JointSpread {
  const start = jointFitAt(data, [0.5, 0, 0.5, 0.2], false);
  const unit = start === null ? 1 : Math.max(1, slopeUnit(data, start.residualVariance));
  return [START[0], START[1] * unit, START[2] * unit, START[3] * unit];
}

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
  if (data.readings - data.components.length - data.columns < 1)
    return { why: "too few readings for the environments and standards compared" };
  const start = jointFitAt(data, [0.5, 0, 0.5, 0.2], false);
  if (start === null) return { why: "environments and standards can't be told apart in these readings" };
  const unit = Math.max(1, slopeUnit(data, start.residualVariance));
  const spreadOf = (x: Float64Array): JointSpread => [x[0]!, x[1]! * unit, x[2]! * unit, x[3]! * unit];
  const value = (x: Float64Array) =>
    (jointFitAt(data, spreadOf(x), false)?.value ?? Number.POSITIVE_INFINITY) / data.readings;
  const { at } = minimise(value, from, { tolerance, maxIterations: 200 });
  const fit = jointFitAt(data, spreadOf(at), true);
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
  const variance = (weights: (k: number) => number) =>
    Math.max(quadratic(fit.covariance, weights), quadratic(fit.clusterCovariance, weights));
  const rates = cells.map((cell, k): JointRate => {
    const rate = fit.fixed[intercepts + k]!;
    const standardError = Math.sqrt(variance((j) => (j === intercepts + k ? 1 : 0)));
    return {
      environment: table.environments[cell.environment]!,
      standard: table.standards[cell.standard]!,
      hours: cell.hours,
      rateMmPer1000Hours: rate,
      standardError,
      modelStandardError: Math.sqrt(fit.covariance.get(intercepts + k, intercepts + k)),
      lower: rate - t * standardError,
      upper: rate + t * standardError,
    };
  });
  const free = data.readings - data.columns;
  return {
    kind: "fitted",
    readings: data.readings,
    components: data.components.length,
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
      return fieller(
        rates[i]!.rateMmPer1000Hours,
        rates[j]!.rateMmPer1000Hours,
        (ratio) => variance(pick(1, -ratio)),
        t,
      );
    },
  };
}

/**
 * Bounds of x/y: the ratios ρ at which x − ρ·y is within t standard errors of zero, found outward from the estimate.
 *
 * Source: Fieller (1954), J. R. Stat. Soc. B 16, 175-185.
 */
function fieller(x: number, y: number, varianceAt: (ratio: number) => number, t: number): RateRatio {
  const estimate = x / y;
  if (!(y > 0) || !(x > 0)) return { estimate, lower: null, upper: null };
  const outside = (ratio: number) => (x - ratio * y) ** 2 > t * t * varianceAt(ratio);
  const search = (factor: number) => {
    let inside = 1;
    let beyond = factor;
    for (let k = 0; k < 60 && !outside(estimate * beyond); k++) {
      inside = beyond;
      beyond *= factor;
    }
    if (!outside(estimate * beyond)) return null;
    for (let k = 0; k < 60; k++) {
      const middle = Math.sqrt(inside * beyond);
      if (outside(estimate * middle)) beyond = middle;
      else inside = middle;
    }
    return estimate * Math.sqrt(inside * beyond);
  };
  return { estimate, lower: search(1 / 1.25), upper: search(1.25) };
}

function quadratic(matrix: { get(i: number, j: number): number; rows: number }, w: (k: number) => number) {
  let sum = 0;
  for (let i = 0; i < matrix.rows; i++) {
    const wi = w(i);
    if (wi === 0) continue;
    for (let j = 0; j < matrix.rows; j++) sum += wi * w(j) * matrix.get(i, j);
  }
  return sum;
}

/** A rough spread of the components' slopes in units of the scatter: the search's unit. */
function slopeUnit(data: JointData, residualVariance: number): number {
  const slopes = data.components
    .filter(({ readings, zz }) => readings > 1 && zz[2] * zz[0] - zz[1] ** 2 > 1e-9)
    .map(({ zz, zy }) => (zz[0] * zy[1] - zz[1] * zy[0]) / (zz[0] * zz[2] - zz[1] ** 2));
  const mean = slopes.reduce((sum, slope) => sum + slope, 0) / Math.max(1, slopes.length);
  const variance = slopes.reduce((sum, slope) => sum + (slope - mean) ** 2, 0) / Math.max(1, slopes.length);
  return Math.sqrt(variance / residualVariance);
}

/** Each cell's rate over the mean, from the slopes of the components that flew mostly so. */
function crudeRelativeRates(table: JointTable, cells: readonly Cell[]): Float64Array {
  const sums = cells.map(() => ({ wear: 0, hours: 0 }));
  const first = new Map<number, number>();
  const last = new Map<number, number>();
  for (let row = 0; row < table.rows; row++) {
    const component = table.component[row]!;
    if (!first.has(component)) first.set(component, row);
    last.set(component, row);
  }
  for (const [component, to] of last) {
    const from = first.get(component)!;
    const flown = cells.map(({ environment, standard }) =>
      standard === table.standard[to]
        ? table.hoursIn[environment]![to]! - table.hoursIn[environment]![from]!
        : 0,
    );
    const total = flown.reduce((sum, hours) => sum + hours, 0);
    const most = flown.findIndex((hours) => hours > 0.8 * total);
    if (most < 0) continue;
    sums[most]!.wear += table.wearMm[to]! - table.wearMm[from]!;
    sums[most]!.hours += total;
  }
  const all = sums.reduce((one, { wear, hours }) => ({ wear: one.wear + wear, hours: one.hours + hours }), {
    wear: 0,
    hours: 0,
  });
  return relativeRates(cells, (k) => {
    const { wear, hours } = sums[k]!;
    return hours > 0 ? wear / hours : all.wear / all.hours;
  });
}
