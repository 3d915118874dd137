/**
 * Groups of lives compared: one shape with separate scales and the test of it, ratios of lives, and the log-rank test.
 * Checked: tests/life/comparisons.test.ts against R survreg and survdiff.
 */
import { chiSquaredCdf } from "../math/distributions.ts";
import { type LifeRow, type LifeTable, lifeTable } from "../records/life-table.ts";
import { choleskySolver } from "./curve-newton.ts";
import type { LifeGroup } from "./parse-life-table.ts";
import { fitWeibull } from "./weibull-fit.ts";
import { fitWeibullRegression, lifeRatio, type RegressionFit } from "./weibull-regression.ts";

export interface ChiSquaredTest {
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
}

export interface CommonShape {
  readonly kind: "fitted";
  readonly shape: number;
  /** In the order of the groups. */
  readonly scalesHours: readonly number[];
  readonly logLikelihood: number;
  /** Against a shape for each group; null where some group can't be fitted by itself. */
  readonly test: ChiSquaredTest | null;
  readonly regression: RegressionFit;
}

export type CommonShapeOutcome = CommonShape | { readonly kind: "none"; readonly why: string };

/** All groups' rows in one table, and which group each came from. */
export function stackGroups(groups: readonly LifeGroup[]): { table: LifeTable; group: number[] } {
  const rows: LifeRow[] = [];
  const group: number[] = [];
  for (const [g, { table }] of groups.entries()) {
    for (let i = 0; i < table.rows; i++) {
      rows.push({
        entryHours: table.entryHours[i]!,
        lowerHours: table.lowerHours[i]!,
        upperHours: table.upperHours[i]!,
        count: table.count[i]!,
        cluster: table.cluster[i]!,
      });
      group.push(g);
    }
  }
  return { table: lifeTable(rows), group };
}

/** One shape for all groups, a scale for each, with the likelihood-ratio test against separate shapes. */
export function commonShape(groups: readonly LifeGroup[]): CommonShapeOutcome {
  const { table, group } = stackGroups(groups);
  const design = group.map((g) => groups.map((_, k) => (k === g ? 1 : 0)));
  const fit = fitWeibullRegression(table, design);
  if (fit.kind === "none") return fit;
  const separate = groups.map((each) => fitWeibull(each.table));
  let free: number | null = 0;
  for (const each of separate)
    free = free === null || each.kind === "none" ? null : free + each.logLikelihood;
  return {
    kind: "fitted",
    shape: fit.shape,
    scalesHours: Array.from(fit.coefficients, Math.exp),
    logLikelihood: fit.logLikelihood,
    test: free === null ? null : chiSquaredTest(2 * (free - fit.logLikelihood), groups.length - 1),
    regression: fit,
  };
}

export interface LifeRatio {
  readonly kind: "fitted";
  /** Lives of `of` over lives of `against`, at every fraction: one shape is taken for both. */
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  /** Equal lives against a ratio: likelihood ratio. */
  readonly test: ChiSquaredTest;
  readonly shapeTest: ChiSquaredTest | null;
  readonly sentence: string;
}

/** "Did the new standard help?": the ratio of lives of two groups, in one sentence with numbers. */
export function compareLives(
  of: LifeGroup,
  against: LifeGroup,
  confidence: number,
): LifeRatio | { readonly kind: "none"; readonly why: string } {
  const { table, group } = stackGroups([against, of]);
  const fit = fitWeibullRegression(
    table,
    group.map((g) => [1, g]),
  );
  if (fit.kind === "none") return fit;
  const equal = fitWeibull(table);
  if (equal.kind === "none") return { kind: "none", why: equal.why };
  const ratio = lifeRatio(fit, 1, confidence);
  const shared = commonShape([against, of]);
  const shapeTest = shared.kind === "fitted" ? shared.test : null;
  return {
    kind: "fitted",
    ...ratio,
    test: chiSquaredTest(2 * (fit.logLikelihood - equal.logLikelihood), 1),
    shapeTest,
    sentence: ratioSentence(of.group, against.group, ratio, confidence, shapeTest),
  };
}

function ratioSentence(
  of: string,
  against: string,
  { ratio, lower, upper }: { ratio: number; lower: number; upper: number },
  confidence: number,
  shapeTest: ChiSquaredTest | null,
): string {
  const digits = (value: number) =>
    value.toPrecision(3).replace(/\.?0+$/, (zeros) => (zeros.includes(".") ? "" : zeros));
  const bounds = `${Number((100 * confidence).toPrecision(4))} %: ${digits(lower)} to ${digits(upper)} times`;
  const shapes =
    shapeTest !== null && shapeTest.p < 0.05
      ? ` But their shapes differ (p ${digits(shapeTest.p)}), so no one ratio holds at all hours.`
      : "";
  const verdict =
    lower > 1
      ? `${of} lasts longer than ${against}: ${digits(ratio)} times as long (${bounds}).`
      : upper < 1
        ? `${of} lasts shorter than ${against}: ${digits(ratio)} times as long (${bounds}).`
        : `Whether ${of} lasts longer than ${against} can't be told: ${digits(ratio)} times as long (${bounds}).`;
  return verdict + shapes;
}

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

function chiSquaredTest(chiSquared: number, degreesOfFreedom: number): ChiSquaredTest {
  const value = Math.max(0, chiSquared);
  return { chiSquared: value, degreesOfFreedom, p: 1 - chiSquaredCdf(value, degreesOfFreedom) };
}
