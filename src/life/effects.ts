/**
 * Effects of environment, standard and the like on life, by Weibull regression on their levels: ratios of lives with bounds,
 * and whether the effect of one depends on the other. Only groups observed side by side should be put in: parts before a
 * change and after it differ in more than the change.
 * Checked: tests/life/effects.test.ts against R survreg.
 */
import type { LifeTable } from "../records/life-table.ts";
import { type ChiSquaredTest, chiSquaredTest } from "./chi-squared-test.ts";
import { fitWeibullRegression, lifeRatio, type RegressionFit } from "./weibull-regression.ts";

export interface Factor {
  /** What it is, say "standard". */
  readonly name: string;
  /** Its level in each row of the table. */
  readonly levels: readonly string[];
}

export interface Effect {
  readonly factor: string;
  readonly level: string;
  /** The level it is set against: the one with most lives. */
  readonly against: string;
  /** Lives at this level over lives at the other, the other factors being equal. */
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

export interface FactorEffects {
  readonly kind: "fitted";
  readonly effects: readonly Effect[];
  readonly fit: RegressionFit;
  /** Does the effect of one factor depend on the level of another? null where that can't be fitted, or with one factor. */
  readonly interaction: ChiSquaredTest | null;
}

export type FactorEffectsOutcome = FactorEffects | { readonly kind: "none"; readonly why: string };

interface Column {
  readonly factor: string;
  readonly level: string;
  readonly against: string;
  readonly values: readonly number[];
}

/** @param confidence  of the two-sided bounds */
export function factorEffects(
  table: LifeTable,
  factors: readonly Factor[],
  confidence: number,
): FactorEffectsOutcome {
  const columnsOf = factors.map((factor) => levelColumns(table, factor));
  const columns = columnsOf.flat();
  if (columns.length === 0) return { kind: "none", why: "one level only: nothing to compare" };
  const fit = fitWeibullRegression(table, designOf(table, columns));
  if (fit.kind === "none") return fit;
  const effects = columns.map(({ factor, level, against }, k) => ({
    factor,
    level,
    against,
    ...lifeRatio(fit, k + 1, confidence),
  }));
  return { kind: "fitted", effects, fit, interaction: interactionTest(table, columnsOf, columns, fit) };
}

/** A column of 0 and 1 for each level but the commonest. */
function levelColumns(table: LifeTable, factor: Factor): Column[] {
  const lives = new Map<string, number>();
  for (const [i, level] of factor.levels.entries()) {
    lives.set(level, (lives.get(level) ?? 0) + table.count[i]!);
  }
  const levels = [...lives].sort((a, b) => b[1] - a[1]).map(([level]) => level);
  const [against, ...others] = levels;
  return others.map((level) => ({
    factor: factor.name,
    level,
    against: against!,
    values: factor.levels.map((each) => (each === level ? 1 : 0)),
  }));
}

function interactionTest(
  table: LifeTable,
  columnsOf: readonly (readonly Column[])[],
  columns: readonly Column[],
  main: RegressionFit,
): ChiSquaredTest | null {
  const products: Column[] = [];
  for (const [f, first] of columnsOf.entries()) {
    for (const second of columnsOf.slice(f + 1)) {
      for (const a of first) {
        for (const b of second) {
          const values = a.values.map((value, i) => value * b.values[i]!);
          // Levels that never come together, or without an event there, have no interaction to be seen.
          if (values.some((value, i) => value === 1 && table.upperHours[i]! < Number.POSITIVE_INFINITY))
            products.push({ ...a, level: `${a.level} and ${b.level}`, values });
        }
      }
    }
  }
  if (products.length === 0) return null;
  const full = fitWeibullRegression(table, designOf(table, [...columns, ...products]), false);
  if (full.kind === "none") return null;
  return chiSquaredTest(2 * (full.logLikelihood - main.logLikelihood), products.length);
}

function designOf(table: LifeTable, columns: readonly Column[]): number[][] {
  return Array.from({ length: table.rows }, (_, i) => [1, ...columns.map((column) => column.values[i]!)]);
}
