/** Log-rank test of equal survival. Checked: tests/life/comparisons.test.ts against R survdiff. */
import { type ChiSquaredTest, chiSquaredTest } from "./chi-squared-test.ts";
import { choleskySolver } from "./cholesky.ts";
import { stackGroups } from "./comparisons.ts";
import type { LifeGroup } from "./parse-life-table.ts";

export interface LogRank extends ChiSquaredTest {
  readonly kind: "tested";
  readonly observed: readonly number[];
  readonly expected: readonly number[];
}

/**
 * Log-rank test of equal survival, for exact events, running lives and late entry.
 *
 * @returns none where an event is known only by an interval: this test would have to guess where
 * Source: Klein and Moeschberger (2003), Survival Analysis, section 7.3.
 */
export function logRank(
  groups: readonly LifeGroup[],
): LogRank | { readonly kind: "none"; readonly why: string } {
  const { table, group } = stackGroups(groups);
  const times = new Set<number>();
  for (let i = 0; i < table.rows; i++) {
    const [lower, upper] = [table.lowerHours[i]!, table.upperHours[i]!];
    if (upper === Number.POSITIVE_INFINITY || table.count[i] === 0) continue;
    if (lower !== upper) return { kind: "none", why: "events are known by intervals only" };
    times.add(lower);
  }
  const size = groups.length;
  const [observed, expected] = [new Float64Array(size), new Float64Array(size)];
  const variance = new Float64Array(size * size);
  for (const time of [...times].sort((a, b) => a - b)) {
    const [risk, events] = [new Float64Array(size), new Float64Array(size)];
    for (let i = 0; i < table.rows; i++) {
      if (!(table.entryHours[i]! < time && table.lowerHours[i]! >= time)) continue;
      risk[group[i]!]! += table.count[i]!;
      if (table.upperHours[i] === time) events[group[i]!]! += table.count[i]!;
    }
    const y = risk.reduce((sum, value) => sum + value, 0);
    const d = events.reduce((sum, value) => sum + value, 0);
    const factor = y > 1 ? (d * (y - d)) / (y - 1) : 0;
    for (let g = 0; g < size; g++) {
      observed[g]! += events[g]!;
      expected[g]! += (d * risk[g]!) / y;
      for (let h = 0; h < size; h++) {
        variance[g * size + h]! += factor * ((g === h ? risk[g]! / y : 0) - (risk[g]! * risk[h]!) / (y * y));
      }
    }
  }
  return logRankFrom(observed, expected, variance, size);
}

function logRankFrom(
  observed: Float64Array,
  expected: Float64Array,
  variance: Float64Array,
  size: number,
): ReturnType<typeof logRank> {
  // The last group is left out: the differences sum to 0.
  const free = size - 1;
  const reduced = Float64Array.from({ length: free * free }, (_, k) => {
    return variance[Math.floor(k / free) * size + (k % free)]!;
  });
  const difference = Float64Array.from({ length: free }, (_, g) => observed[g]! - expected[g]!);
  const solved = choleskySolver(reduced, free)(difference);
  if (solved === null) return { kind: "none", why: "no time at which the groups can be compared" };
  const chiSquared = solved.reduce((sum, value, g) => sum + value * difference[g]!, 0);
  return {
    kind: "tested",
    ...chiSquaredTest(chiSquared, free),
    observed: Array.from(observed),
    expected: Array.from(expected),
  };
}
