/**
 * Groups of lives compared: one shape with separate scales and the test of it, and ratios of lives.
 * Checked: tests/life/comparisons.test.ts against R survreg.
 */
import type { LifeTable } from "../records/life-table.ts";
import { type ChiSquaredTest, chiSquaredTest } from "./chi-squared-test.ts";
import type { LifeGroup } from "./parse-life-table.ts";
import { fitWeibull } from "./weibull-fit.ts";
import { fitWeibullRegression, lifeRatio } from "./weibull-regression.ts";

export interface CommonShape {
  readonly kind: "fitted";
  readonly shape: number;
  /** In the order of the groups. */
  readonly scalesHours: readonly number[];
  readonly logLikelihood: number;
  /** Against a shape for each group; null where some group can't be fitted by itself. */
  readonly test: ChiSquaredTest | null;
}

export type CommonShapeOutcome = CommonShape | { readonly kind: "none"; readonly why: string };

/** All groups' rows in one table, and which group each came from. */
export function stackGroups(groups: readonly LifeGroup[]): { table: LifeTable; group: number[] } {
  const column = (pick: (table: LifeTable) => Float64Array): Float64Array => {
    const all = new Float64Array(rows);
    let from = 0;
    for (const { table } of groups) {
      all.set(pick(table), from);
      from += table.rows;
    }
    return all;
  };
  const rows = groups.reduce((sum, { table }) => sum + table.rows, 0);
  const table = {
    rows,
    entryHours: column(({ entryHours }) => entryHours),
    lowerHours: column(({ lowerHours }) => lowerHours),
    upperHours: column(({ upperHours }) => upperHours),
    count: column(({ count }) => count),
    cluster: Int32Array.from(groups.flatMap(({ table: { cluster } }) => Array.from(cluster))),
  };
  return { table, group: groups.flatMap(({ table: own }, g) => new Array<number>(own.rows).fill(g)) };
}

/** One shape for all groups, a scale for each, with the likelihood-ratio test against separate shapes. */
export function commonShape(groups: readonly LifeGroup[]): CommonShapeOutcome {
  const { table, group } = stackGroups(groups);
  const design = group.map((g) => groups.map((_, k) => (k === g ? 1 : 0)));
  const fit = fitWeibullRegression(table, design, false);
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

/** Two significant digits, or three where two would round a ratio to 1. */
function digits(value: number): string {
  const two = Number(value.toPrecision(2));
  return two === 1 && value !== 1
    ? value.toPrecision(3)
    : value >= 100
      ? value.toFixed(0)
      : value.toPrecision(2);
}

function ratioSentence(
  of: string,
  against: string,
  { ratio, lower, upper }: { ratio: number; lower: number; upper: number },
  confidence: number,
  shapeTest: ChiSquaredTest | null,
): string {
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
