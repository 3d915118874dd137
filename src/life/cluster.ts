/**
 * Dependence within aircraft: components of one aircraft are alike, so bounds that take every life for its own are too
 * narrow. Two remedies: the sandwich variance by aircraft, whose ratio to the plain variance widens likelihood-ratio
 * bounds, and a seeded bootstrap of whole aircraft.
 * Sources: Lin and Wei (1989), JASA 84, 1074-1078 (sandwich); Chandler and Bate (2007), Biometrika 94, 167-183 (adjusting
 * the likelihood ratio); Davison and Hinkley (1997), Bootstrap Methods, section 3.8 (resampling clusters).
 */
import { standardNormalQuantile, studentQuantile } from "../math/distributions.ts";
import { seededRandom } from "../math/random.ts";
import type { LifeTable } from "../records/life-table.ts";
import type { Quantity } from "./likelihood-region.ts";
import { type FittedWeibull, fitWeibull, type WeibullParameters } from "./weibull-fit.ts";
import { type LikelihoodAt, likelihoodAt, weibullLikelihood } from "./weibull-likelihood.ts";

/** Sandwich by cluster for (alpha, beta), beside the plain inverse information. */
export interface ClusterVariance {
  /** Clusters that carry any score. */
  readonly clusters: number;
  /** Row-major 2 x 2. */
  readonly plain: readonly [number, number, number, number];
  readonly sandwich: readonly [number, number, number, number];
}

/** @param table  the table that `fit` was fitted to; rows of cluster -1 stand alone, each of their lives by itself */
export function clusterVariance(fit: FittedWeibull, table: LifeTable): ClusterVariance {
  const byCluster = new Map<number, { a: number; b: number }>();
  // Sum over clusters of score times score.
  const meat = { aa: 0, ab: 0, bb: 0 };
  let clusters = 0;
  const addCluster = (a: number, b: number, times: number) => {
    clusters += times;
    meat.aa += times * a * a;
    meat.ab += times * a * b;
    meat.bb += times * b * b;
  };
  for (let i = 0; i < table.rows; i++) {
    const count = table.count[i]!;
    if (count === 0) continue;
    const { gradAlpha: a, gradBeta: b } = rowLikelihood(table, i, fit);
    const cluster = table.cluster[i]!;
    if (cluster < 0) {
      addCluster(a, b, count);
      continue;
    }
    const sum = byCluster.get(cluster);
    if (sum === undefined) byCluster.set(cluster, { a: count * a, b: count * b });
    else {
      sum.a += count * a;
      sum.b += count * b;
    }
  }
  for (const { a, b } of byCluster.values()) addCluster(a, b, 1);
  const plain = inverseInformation(fit);
  // Few clusters show too little of their spread: the usual factor G/(G - 1).
  const small = clusters > 1 ? clusters / (clusters - 1) : Number.POSITIVE_INFINITY;
  const [p, q, , s] = plain;
  const sandwich = (u: [number, number], v: [number, number]) =>
    small * (u[0] * (meat.aa * v[0] + meat.ab * v[1]) + u[1] * (meat.ab * v[0] + meat.bb * v[1]));
  const first: [number, number] = [p, q];
  const second: [number, number] = [q, s];
  return {
    clusters,
    plain,
    sandwich: [
      sandwich(first, first),
      sandwich(first, second),
      sandwich(second, first),
      sandwich(second, second),
    ],
  };
}

/** Likelihood of one life with its derivatives by the fit's (alpha, beta): that of a table of one row, moved. */
function rowLikelihood(table: LifeTable, row: number, fit: FittedWeibull): LikelihoodAt {
  const one = weibullLikelihood({
    rows: 1,
    entryHours: table.entryHours.subarray(row, row + 1),
    lowerHours: table.lowerHours.subarray(row, row + 1),
    upperHours: table.upperHours.subarray(row, row + 1),
    count: ONE,
    cluster: table.cluster.subarray(row, row + 1),
  });
  // alpha is the log hazard at the table's own centre: alpha_own = alpha + beta shift.
  const shift = one.centre - fit.likelihood.centre;
  const at = likelihoodAt(one, fit.alpha + fit.beta * shift, fit.beta);
  return {
    ...at,
    gradBeta: at.gradBeta + shift * at.gradAlpha,
    hessAlphaBeta: at.hessAlphaBeta + shift * at.hessAlphaAlpha,
    hessBetaBeta: at.hessBetaBeta + 2 * shift * at.hessAlphaBeta + shift * shift * at.hessAlphaAlpha,
  };
}

const ONE = Float64Array.of(1);

function inverseInformation(fit: FittedWeibull): [number, number, number, number] {
  const at = likelihoodAt(fit.likelihood, fit.alpha, fit.beta);
  const determinant = at.hessAlphaAlpha * at.hessBetaBeta - at.hessAlphaBeta ** 2;
  const off = at.hessAlphaBeta / determinant;
  return [-at.hessBetaBeta / determinant, off, off, -at.hessAlphaAlpha / determinant];
}

/**
 * How much larger a quantity's variance is with clusters than without: never below 1.
 *
 * @returns 1 where the quantity doesn't move with the parameters; Infinity with a single cluster
 */
export function inflationFactor(fit: FittedWeibull, variance: ClusterVariance, quantity: Quantity): number {
  if (variance.clusters < 2) return Number.POSITIVE_INFINITY;
  const at = (alpha: number, beta: number) =>
    quantity({ shape: beta, scaleHours: Math.exp(fit.likelihood.centre - alpha / beta) });
  const stepA = 1e-2 * Math.sqrt(variance.plain[0]);
  const stepB = 1e-2 * Math.sqrt(variance.plain[3]);
  const a = (at(fit.alpha + stepA, fit.beta) - at(fit.alpha - stepA, fit.beta)) / (2 * stepA);
  const b = (at(fit.alpha, fit.beta + stepB) - at(fit.alpha, fit.beta - stepB)) / (2 * stepB);
  const form = (m: ClusterVariance["plain"]) => a * a * m[0] + a * b * (m[1] + m[2]) + b * b * m[3];
  const plain = form(variance.plain);
  return plain > 0 ? Math.max(1, form(variance.sandwich) / plain) : 1;
}

/**
 * The likelihood drop widened for clusters: times the inflation, and with Student's t of clusters - 1 for the normal
 * quantile, since the sandwich itself is an estimate from that many aircraft.
 *
 * @param confidence  one-sided, above 0.5
 */
export function clusteredDrop(
  fit: FittedWeibull,
  variance: ClusterVariance,
  quantity: Quantity,
  drop: number,
  confidence: number,
): number {
  const inflation = inflationFactor(fit, variance, quantity);
  if (inflation === 1 || variance.clusters < 2) return drop * inflation;
  const ratio = studentQuantile(confidence, variance.clusters - 1) / standardNormalQuantile(confidence);
  return drop * inflation * ratio * ratio;
}

export interface ClusterBootstrap {
  /** Parameters of each resample that had a fit. */
  readonly parameters: readonly WeibullParameters[];
  readonly withoutFit: number;
}

/** Above this many rows a resample takes one Newton step from the fit instead of a fit of its own. */
const REFIT_ROWS = 400;

/** Resamples whole clusters with replacement and fits again. Seeded. */
export function clusterBootstrap(
  fit: FittedWeibull,
  table: LifeTable,
  options: { readonly seed: number; readonly resamples: number },
): ClusterBootstrap {
  const units = unitsOf(table);
  const random = seededRandom(options.seed);
  const parameters: WeibullParameters[] = [];
  const step = table.rows > REFIT_ROWS ? oneStepper(fit, table, units) : null;
  for (let r = 0; r < options.resamples; r++) {
    const drawn = Array.from(units, () => random.below(units.length));
    const again = step === null ? refit(table, units, drawn) : step(drawn);
    if (again !== null) parameters.push(again);
  }
  return { parameters, withoutFit: options.resamples - parameters.length };
}

type Unit = readonly (readonly [row: number, lives: number])[];

function refit(table: LifeTable, units: readonly Unit[], drawn: readonly number[]): WeibullParameters | null {
  const count = new Float64Array(table.rows);
  for (const unit of drawn) for (const [row, lives] of units[unit]!) count[row]! += lives;
  const fit = fitWeibull({ ...table, count });
  return fit.kind === "fitted" ? { shape: fit.shape, scaleHours: fit.scaleHours } : null;
}

/** One Newton step in (alpha, log beta) from the fit, with the resample's own score and information. */
function oneStepper(
  fit: FittedWeibull,
  table: LifeTable,
  units: readonly Unit[],
): (drawn: readonly number[]) => WeibullParameters | null {
  const { beta } = fit;
  const sums = units.map((unit) => {
    const sum = [0, 0, 0, 0, 0];
    for (const [row, lives] of unit) {
      const at = rowLikelihood(table, row, fit);
      const parts = [
        at.gradAlpha,
        beta * at.gradBeta,
        -at.hessAlphaAlpha,
        -beta * at.hessAlphaBeta,
        -beta * beta * at.hessBetaBeta - beta * at.gradBeta,
      ];
      for (const [k, part] of parts.entries()) sum[k]! += lives * part;
    }
    return sum;
  });
  return (drawn) => {
    const total = new Float64Array(5);
    for (const unit of drawn) for (let k = 0; k < 5; k++) total[k]! += sums[unit]![k]!;
    const [a, b, aa, ab, bb] = [total[0]!, total[1]!, total[2]!, total[3]!, total[4]!];
    const determinant = aa * bb - ab * ab;
    if (!(determinant > 0 && aa > 0)) return null;
    const alpha = fit.alpha + (bb * a - ab * b) / determinant;
    const shape = beta * Math.exp((aa * b - ab * a) / determinant);
    return { shape, scaleHours: Math.exp(fit.likelihood.centre - alpha / shape) };
  };
}

/** Values of a quantity over the resamples, sorted; those that are no number are left out. */
export function bootstrapValues(bootstrap: ClusterBootstrap, quantity: Quantity): Float64Array {
  const values = bootstrap.parameters.map(quantity).filter((value) => !Number.isNaN(value));
  return Float64Array.from(values).sort();
}

/** What is drawn as one: all rows of a cluster, or a single life of a row that stands alone. */
function unitsOf(table: LifeTable): Unit[] {
  const units: Unit[] = [];
  const byCluster = new Map<number, [number, number][]>();
  for (let i = 0; i < table.rows; i++) {
    const cluster = table.cluster[i]!;
    const lives = table.count[i]!;
    if (cluster < 0) {
      for (let k = 0; k < lives; k++) units.push([[i, 1]]);
      continue;
    }
    const same = byCluster.get(cluster);
    if (same !== undefined) same.push([i, lives]);
    else {
      const fresh: [number, number][] = [[i, lives]];
      byCluster.set(cluster, fresh);
      units.push(fresh);
    }
  }
  return units;
}

/** The value below which a share of sorted values lies (type 7). */
export function sortedQuantile(sorted: Float64Array, share: number): number | null {
  if (sorted.length === 0) return null;
  const place = share * (sorted.length - 1);
  const low = Math.floor(place);
  const next = sorted[Math.min(low + 1, sorted.length - 1)]!;
  return sorted[low]! + (place - low) * (next - sorted[low]!);
}
