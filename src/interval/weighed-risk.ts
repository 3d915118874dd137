/** A risk beside what is acceptable of it: whether it is over, and which of several weighs most. */
import type { Bounded } from "./month-result.ts";

/** One risk at one interval, with what is acceptable. null: could not be computed at all. */
export interface WeighedRisk {
  readonly name: string;
  readonly acceptable: number;
  readonly value: Bounded | null;
}

/** Numbers are compared at this relative precision, so that equal ones computed two ways are equal. */
export const PRECISION = 1e-9;
const over = (value: number, acceptable: number): boolean => value > acceptable * (1 + PRECISION);
/** Not the opposite of over: a number that could not be computed is neither, and holds nothing. */
const within = (value: number, acceptable: number): boolean => value <= acceptable * (1 + PRECISION);

/** Whether the upper bound holds. */
export const boundHolds = ({ value, acceptable }: WeighedRisk): boolean =>
  value?.upper != null && within(value.upper, acceptable);

/** Whether the best estimate holds. */
export const estimateHolds = ({ value, acceptable }: WeighedRisk): boolean =>
  value !== null && within(value.estimate, acceptable);

/** Over what is acceptable even by the lower bound. */
export const surelyOver = ({ value, acceptable }: WeighedRisk): boolean =>
  value?.lower != null && over(value.lower, acceptable);

/** Computed, and over by the best estimate. */
export const likelyOver = (risk: WeighedRisk): boolean => risk.value !== null && !estimateHolds(risk);

/** Those over by the lower bound or the best estimate, the one furthest over (as a ratio) first. */
export function gravestOver(risks: readonly WeighedRisk[]): WeighedRisk[] {
  const times = ({ value, acceptable }: WeighedRisk) =>
    orInfinite(Math.max(value!.estimate, value!.lower ?? 0) / acceptable);
  return risks
    .filter((risk) => surelyOver(risk) || likelyOver(risk))
    .sort((a, b) => descending(times(a), times(b)));
}

/**
 * The risk whose upper bound is the largest share of what is acceptable; one that has no bound, or could not be computed,
 * comes before all that have, and of those without the one with the largest estimate. null: none could be computed.
 */
export function nearestLimit(risks: readonly WeighedRisk[]): WeighedRisk | null {
  if (risks.every(({ value }) => value === null)) return null;
  const bound = ({ value, acceptable }: WeighedRisk) =>
    orInfinite((value?.upper ?? Number.POSITIVE_INFINITY) / acceptable);
  const estimate = ({ value, acceptable }: WeighedRisk) =>
    value === null ? -1 : value.estimate / acceptable;
  const inOrder = [...risks].sort(
    (a, b) => descending(bound(a), bound(b)) || descending(estimate(a), estimate(b)),
  );
  return inOrder[0]!;
}

/** A ratio that could not be computed weighs more than any that was. */
const orInfinite = (ratio: number): number => (Number.isNaN(ratio) ? Number.POSITIVE_INFINITY : ratio);

const descending = (a: number, b: number): number => (a === b ? 0 : a > b ? -1 : 1);
