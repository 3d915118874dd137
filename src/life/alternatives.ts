/**
 * Other distributions for the same lives, to be compared with the Weibull by AIC: lognormal and exponential.
 *
 * Each life adds log f(t), log S(a) or log(S(a) - S(b)), less log S(entry), as for the Weibull.
 * AIC = 2 (number of parameters) - 2 log-likelihood: Akaike (1974), IEEE Trans. Automatic Control 19, 716-723.
 * Checked: tests/life/alternatives.test.ts against R survreg.
 */

import { findRoot } from "../math/find-root.ts";
import { minimise } from "../math/minimise.ts";
import { tabulatedLogNormalCdf, tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type Survival, survivalOf } from "./decision-line.ts";
import type { FittedWeibull, WeibullFit } from "./weibull-fit.ts";

export type AlternativeFit =
  | {
      readonly family: "weibull";
      readonly shape: number;
      readonly scaleHours: number;
      readonly logLikelihood: number;
      readonly aic: number;
    }
  | {
      readonly family: "lognormal";
      readonly medianHours: number;
      readonly sigma: number;
      readonly logLikelihood: number;
      readonly aic: number;
    }
  | {
      readonly family: "exponential";
      readonly meanHours: number;
      readonly logLikelihood: number;
      readonly aic: number;
    };

/** The families that could be fitted, best (least AIC) first. */
export function compareFamilies(table: LifeTable, weibull: WeibullFit): AlternativeFit[] {
  const fits = [
    weibull.kind === "fitted" ? asAlternative(weibull) : null,
    fitLognormal(table),
    fitExponential(table),
  ].filter((fit) => fit !== null);
  return fits.sort((a, b) => a.aic - b.aic);
}

/** S(hours) of a fitted family. */
export function familySurvival(fit: AlternativeFit): Survival {
  if (fit.family === "weibull") return survivalOf(fit);
  if (fit.family === "exponential") return (hours) => Math.exp(-hours / fit.meanHours);
  const logMedian = Math.log(fit.medianHours);
  return (hours, logHours = Math.log(hours)) => tabulatedNormalCdf((logMedian - logHours) / fit.sigma);
}

function asAlternative(fit: FittedWeibull): AlternativeFit {
  const { shape, scaleHours, logLikelihood } = fit;
  return { family: "weibull", shape, scaleHours, logLikelihood, aic: 4 - 2 * logLikelihood };
}

/** Exponential lives: the rate at which the score, decreasing in the log rate, is 0; null without events. */
export function fitExponential(table: LifeTable): Extract<AlternativeFit, { family: "exponential" }> | null {
  let exposure = 0;
  let exact = 0;
  const widths: { hours: number; weight: number }[] = [];
  for (let i = 0; i < table.rows; i++) {
    const weight = table.count[i]!;
    const lower = table.lowerHours[i]!;
    const upper = table.upperHours[i]!;
    exposure += weight * (lower - table.entryHours[i]!);
    if (upper === Number.POSITIVE_INFINITY || weight === 0) continue;
    if (lower === upper) exact += weight;
    else widths.push({ hours: upper - lower, weight });
  }
  const events = exact + widths.reduce((sum, each) => sum + each.weight, 0);
  if (events === 0) return null;
  const scoreAt = (rate: number) =>
    widths.reduce((sum, { hours, weight }) => sum + (weight * hours * rate) / Math.expm1(hours * rate), 0) +
    exact -
    rate * exposure;
  const about = Math.log(
    events / (exposure + widths.reduce((sum, each) => sum + each.weight * each.hours, 0)),
  );
  const root = findRoot((logRate) => scoreAt(Math.exp(logRate)), about - 2, about + 40, 1e-14);
  if (root.kind !== "found") return null;
  const rate = Math.exp(root.at);
  const logLikelihood =
    exact * root.at -
    rate * exposure +
    widths.reduce((sum, { hours, weight }) => sum + weight * Math.log(-Math.expm1(-hours * rate)), 0);
  // Without exposure beside the intervals the rate has no maximum.
  if (!(exposure > 0) || !Number.isFinite(logLikelihood)) return null;
  return { family: "exponential", meanHours: 1 / rate, logLikelihood, aic: 2 - 2 * logLikelihood };
}

/** Lognormal lives, by BFGS in (mu, log sigma); null where there is no maximum (as for the Weibull) or it isn't found. */
export function fitLognormal(table: LifeTable): Extract<AlternativeFit, { family: "lognormal" }> | null {
  const places: { log: number; weight: number }[] = [];
  for (let i = 0; i < table.rows; i++) {
    const upper = table.upperHours[i]!;
    if (upper === Number.POSITIVE_INFINITY || table.count[i] === 0) continue;
    places.push({ log: Math.log((table.lowerHours[i]! + upper) / 2), weight: table.count[i]! });
  }
  const events = places.reduce((sum, each) => sum + each.weight, 0);
  if (events <= 1) return null;
  const centre = places.reduce((sum, each) => sum + each.weight * each.log, 0) / events;
  const variance = places.reduce((sum, each) => sum + each.weight * (each.log - centre) ** 2, 0) / events;
  const spread = variance > 0 ? Math.sqrt(variance) : 0.5;
  const lives = lognormalRows(table, centre);
  const { cost, gradient } = lognormalCost(lives);
  for (const [mu, logSigma] of [
    [0.5 * spread, Math.log(1.5 * spread)],
    [2 * spread, Math.log(3 * spread)],
    [0, Math.log(spread)],
  ] as const) {
    const end = minimise(cost, [mu, logSigma], { gradient });
    const [at, log] = [end.at[0]!, end.at[1]!];
    const sound = end.kind === "found" && Math.abs(log - Math.log(spread)) < 7 && Math.abs(at) < 60;
    if (!sound) continue;
    const logLikelihood = -end.value;
    return {
      family: "lognormal",
      medianHours: Math.exp(centre + at),
      sigma: Math.exp(log),
      logLikelihood,
      aic: 4 - 2 * logLikelihood,
    };
  }
  return null;
}

interface LogLife {
  readonly entry: number;
  readonly lower: number;
  readonly upper: number;
  readonly logHours: number;
  readonly weight: number;
}

function lognormalRows(table: LifeTable, centre: number): LogLife[] {
  const log = (hours: number) => (hours > 0 ? Math.log(hours) - centre : Number.NEGATIVE_INFINITY);
  return Array.from({ length: table.rows }, (_, i) => ({
    entry: log(table.entryHours[i]!),
    lower: log(table.lowerHours[i]!),
    upper: log(table.upperHours[i]!),
    logHours: Math.log(table.lowerHours[i]!),
    weight: table.count[i]!,
  })).filter((life) => life.weight > 0);
}

/** Minus the log-likelihood by (mu, log sigma), with its gradient; value and gradient are asked at one point in turn. */
function lognormalCost(lives: readonly LogLife[]): {
  cost: (x: Float64Array) => number;
  gradient: (x: Float64Array) => Float64Array;
} {
  let last: { x: Float64Array; at: ReturnType<typeof lognormalAt> } | null = null;
  const at = (x: Float64Array) => {
    if (last === null || last.x[0] !== x[0] || last.x[1] !== x[1])
      last = { x: Float64Array.from(x), at: lognormalAt(lives, x[0]!, Math.exp(x[1]!)) };
    return last.at;
  };
  return {
    cost: (x) => -at(x).value,
    gradient: (x) => Float64Array.of(-at(x).byMu, -at(x).byLogSigma),
  };
}

/** Log-likelihood and its derivatives by mu and log sigma; z = (log t - mu)/sigma of each end. */
function lognormalAt(
  lives: readonly LogLife[],
  mu: number,
  sigma: number,
): { value: number; byMu: number; byLogSigma: number } {
  let value = 0;
  // Sums of slopes by z, and of slopes times z.
  let slopes = 0;
  let moments = 0;
  const add = (z: number, slope: number) => {
    slopes += slope;
    // At minus infinity the slope is 0.
    if (slope !== 0) moments += slope * z;
  };
  for (const { entry, lower, upper, logHours, weight } of lives) {
    const a = (lower - mu) / sigma;
    if (upper === lower) {
      value += weight * (-LOG_ROOT_2_PI - 0.5 * a * a - Math.log(sigma) - logHours);
      add(a, -weight * a);
      moments += weight;
    } else if (upper === Number.POSITIVE_INFINITY) {
      const chance = logUpper(a);
      value += weight * chance;
      add(a, -weight * densityOver(a, chance));
    } else {
      const b = (upper - mu) / sigma;
      const chance = logBetween(a, b);
      value += weight * chance;
      add(a, -weight * densityOver(a, chance));
      add(b, weight * densityOver(b, chance));
    }
    if (entry > Number.NEGATIVE_INFINITY) {
      const e = (entry - mu) / sigma;
      const chance = logUpper(e);
      value -= weight * chance;
      add(e, weight * densityOver(e, chance));
    }
  }
  const sound = Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
  return { value: sound, byMu: -slopes / sigma, byLogSigma: -moments };
}

const LOG_ROOT_2_PI = 0.5 * Math.log(2 * Math.PI);

/** Standard normal density at z over a chance given by its log. */
const densityOver = (z: number, logChance: number): number =>
  Math.exp(-0.5 * z * z - LOG_ROOT_2_PI - logChance);

const logUpper = (z: number): number => (z === Number.NEGATIVE_INFINITY ? 0 : tabulatedLogNormalCdf(-z));

/** log(P(a < Z <= b)), from whichever tail keeps the digits. */
function logBetween(a: number, b: number): number {
  if (a === Number.NEGATIVE_INFINITY) return tabulatedLogNormalCdf(b);
  const [big, small] =
    a > 0
      ? [tabulatedLogNormalCdf(-a), tabulatedLogNormalCdf(-b)]
      : [tabulatedLogNormalCdf(b), tabulatedLogNormalCdf(a)];
  return big + Math.log(-Math.expm1(small - big));
}
