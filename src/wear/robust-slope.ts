/** A second opinion on wear rates that a few wild readings can't move: Theil-Sen slopes. */
import { binomialCumulative } from "../math/distributions.ts";
import type { WearTable } from "../records/wear-table.ts";

/**
 * Rate of the median component, mm per 1000 h: the Theil-Sen slope of each component's own readings, one vote each, so
 * that slow components, which were read most often, don't outvote the fast ones. Bounds by order statistics (sign test).
 *
 * Source: Sen (1968), J. Am. Stat. Assoc. 63, 1379-1389.
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

function medianOf(sorted: Float64Array): number {
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
