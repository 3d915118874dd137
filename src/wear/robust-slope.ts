/** Second opinions that a few wild readings can't move: Theil-Sen slopes and the Mann-Kendall test. */
import { binomialCumulative, standardNormalCdf, standardNormalQuantile } from "../math/distributions.ts";
import type { WearTable } from "../records/wear-table.ts";

export type RobustSlope =
  | {
      readonly kind: "fitted";
      /** Median of all slopes between two readings of one series, per unit of x. */
      readonly slope: number;
      readonly lower: number;
      readonly upper: number;
      /** Median of y − slope·x. */
      readonly intercept: number;
      readonly pairs: number;
    }
  | { readonly kind: "too-few"; readonly pairs: number };

/**
 * Theil-Sen slope of y on x with Sen's bounds (normal approximation of Kendall's statistic).
 *
 * Source: Sen (1968), J. Am. Stat. Assoc. 63, 1379-1389.
 */
export function theilSen(x: ArrayLike<number>, y: ArrayLike<number>, confidence = 0.95): RobustSlope {
  return slopeOfSeries([{ x: Array.from(x), y: Array.from(y) }], confidence);
}

/**
 * Rate of the median component, mm per 1000 h: the Theil-Sen slope of each component's own readings, one vote each, so
 * that slow components, which were read most often, don't outvote the fast ones. Bounds by order statistics (sign test).
 */
export function theilSenWear(table: WearTable, confidence = 0.95): MedianRate {
  const series = Array.from({ length: table.components }, () => ({ x: [] as number[], y: [] as number[] }));
  for (let row = 0; row < table.rows; row++) {
    const one = series[table.component[row]!]!;
    one.x.push(table.hours[row]! / 1000);
    one.y.push(table.wearMm[row]!);
  }
  const slopes = series.flatMap(({ x, y }) => {
    const own = pairSlopes(x, y);
    return own.length === 0 ? [] : medianOf(Float64Array.from(own).sort());
  });
  const n = slopes.length;
  const tail = (1 - confidence) / 2;
  // The k-th from either end is a bound while fewer than k of n fair coins fall so rarely.
  let k = 0;
  while (k < n && binomialCumulative(k, n, 0.5) <= tail) k++;
  if (k === 0) return { kind: "too-few", components: n };
  const sorted = Float64Array.from(slopes).sort();
  return {
    kind: "fitted",
    components: n,
    rate: medianOf(sorted),
    lower: sorted[k - 1]!,
    upper: sorted[n - k]!,
  };
}

export type MedianRate =
  | {
      readonly kind: "fitted";
      /** Components with two readings at different hours. */
      readonly components: number;
      /** mm per 1000 h. */
      readonly rate: number;
      readonly lower: number;
      readonly upper: number;
    }
  | { readonly kind: "too-few"; readonly components: number };

interface Series {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

function slopeOfSeries(series: readonly Series[], confidence: number): RobustSlope {
  const slopes: number[] = [];
  let variance = 0;
  for (const { x, y } of series) {
    slopes.push(...pairSlopes(x, y));
    variance += kendallVariance(y);
  }
  const pairs = slopes.length;
  if (pairs < 3) return { kind: "too-few", pairs };
  const sorted = Float64Array.from(slopes).sort();
  const slope = medianOf(sorted);
  const reach = standardNormalQuantile(0.5 + confidence / 2) * Math.sqrt(variance);
  const low = Math.max(0, Math.floor((pairs - reach) / 2) - 1);
  const high = Math.min(pairs - 1, Math.ceil((pairs + reach) / 2));
  const rest = Float64Array.from(series.flatMap(({ x, y }) => y.map((v, k) => v - slope * x[k]!))).sort();
  return {
    kind: "fitted",
    slope,
    lower: sorted[low]!,
    upper: sorted[high]!,
    intercept: medianOf(rest),
    pairs,
  };
}

/** Slopes between any two points with different x. */
function pairSlopes(x: readonly number[], y: readonly number[]): number[] {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
    }
  }
  return slopes;
}

export interface MannKendall {
  readonly statistic: number;
  readonly variance: number;
  readonly tau: number;
  readonly z: number;
  /** Two-sided, by the normal approximation with continuity correction. */
  readonly p: number;
  /** Two-sided exact p; null with ties or beyond 50 values. */
  readonly exactP: number | null;
}

/**
 * Mann-Kendall test for a trend in values in order of time.
 *
 * Source: Mann (1945), Econometrica 13, 245-259; Kendall (1975), Rank Correlation Methods, for ties.
 */
export function mannKendall(values: ArrayLike<number>): MannKendall {
  const n = values.length;
  let s = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) s += Math.sign(values[j]! - values[i]!);
  }
  const variance = kendallVariance(Array.from(values));
  const z = s === 0 || variance === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  const ties = new Set(Array.from(values)).size < n;
  return {
    statistic: s,
    variance,
    tau: n > 1 ? s / ((n * (n - 1)) / 2) : 0,
    z,
    p: Math.min(1, 2 * standardNormalCdf(-Math.abs(z))),
    exactP: ties || n > 50 ? null : exactKendallP(n, s),
  };
}

/** Var S = [n(n−1)(2n+5) − Σ t(t−1)(2t+5)]/18, t the sizes of ties. */
function kendallVariance(values: readonly number[]): number {
  const n = values.length;
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let total = n * (n - 1) * (2 * n + 5);
  for (const t of counts.values()) total -= t * (t - 1) * (2 * t + 5);
  return total / 18;
}

/** P(|S| ≥ |s|) when all orders are equally likely, by counting orders with each number of inversions. */
function exactKendallP(n: number, s: number): number {
  const pairs = (n * (n - 1)) / 2;
  let chance = Float64Array.of(1);
  for (let k = 2; k <= n; k++) {
    const next = new Float64Array(chance.length + k - 1);
    for (let i = 0; i < chance.length; i++) {
      for (let j = 0; j < k; j++) next[i + j]! += chance[i]! / k;
    }
    chance = next;
  }
  let p = 0;
  for (let inversions = 0; inversions < chance.length; inversions++) {
    if (Math.abs(pairs - 2 * inversions) >= Math.abs(s)) p += chance[inversions]!;
  }
  return Math.min(1, p);
}

function medianOf(sorted: Float64Array): number {
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
