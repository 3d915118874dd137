/**
 * Dependence within aircraft: components of one aircraft are alike, so bounds that take every life for its own are too
 * narrow. The sandwich variance by aircraft, as a ratio to the plain variance, widens likelihood-ratio bounds; whole
 * aircraft are resampled in cluster-bootstrap.ts.
 * Sources: Lin and Wei (1989), JASA 84, 1074-1078 (sandwich); Chandler and Bate (2007), Biometrika 94, 167-183 (adjusting
 * the likelihood ratio).
 */
import { standardNormalQuantile, studentQuantile } from "../math/distributions.ts";
import type { LifeTable } from "../records/life-table.ts";
import type { Quantity } from "./likelihood-region.ts";
import { oneLife } from "./one-life.ts";
import type { FittedWeibull } from "./weibull-fit.ts";
import { type LikelihoodAt, likelihoodAt } from "./weibull-likelihood.ts";

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

/** Likelihood of one life with its derivatives by the fit's (alpha, beta). */
export const rowLikelihood = (table: LifeTable, row: number, fit: FittedWeibull): LikelihoodAt =>
  likelihoodAt(oneLife(table, row, fit.likelihood.centre), fit.alpha, fit.beta);

/** Inverse of the information about (alpha, beta), row-major. */
export function inverseInformation(fit: FittedWeibull): [number, number, number, number] {
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
