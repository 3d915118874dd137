/**
 * The ordered decision table: the first row that applies gives the answer. Pure; everything it weighs comes in.
 */
import type { Answer, Bounded } from "./month-result.ts";

/** One risk at one interval, with what is acceptable. null: could not be computed at all. */
export interface WeighedRisk {
  readonly name: string;
  readonly acceptable: number;
  readonly value: Bounded | null;
}

export interface IntervalRisks {
  readonly intervalH: number;
  readonly risks: readonly WeighedRisk[];
}

export interface DecisionInput {
  /** Every interval of the grid, ascending, the present one among them. */
  readonly grid: readonly IntervalRisks[];
  /** An interval beyond the present one again, with bounds at the confidence that an extension is tested at. */
  readonly beyondPresent: (intervalH: number) => IntervalRisks;
  readonly presentH: number;
  /** Largest change in one step, as a share of the present interval. */
  readonly largestChange: number;
  /** Rate of functional failures; null without hours. */
  readonly functionalFailures: WeighedRisk;
  /** No interval may exceed this many hours; null: no such bound could be had, so nothing is demonstrated. */
  readonly firstInspectionH: number | null;
  /** Whether an extension may be decided, and every evidence rule passed, at an interval. */
  readonly mayExtendTo: (candidateH: number) => boolean;
}

export interface Decided {
  readonly row: 1 | 2 | 3 | 4 | 5 | 6 | 7;
  readonly answer: Answer;
  readonly recommendedH: number | null;
  readonly candidateH: number | null;
  readonly longestByBoundH: number | null;
  readonly longestByEstimateH: number | null;
  /** The risk that decided, or is nearest to its limit; null where none could be computed. */
  readonly governing: string | null;
}

/** Rates are compared at this relative precision, so that equal numbers computed two ways are equal. */
const PRECISION = 1e-9;
const over = (value: number, acceptable: number): boolean => value > acceptable * (1 + PRECISION);
/** Not the opposite of over: a number that could not be computed is neither, and holds nothing. */
const within = (value: number, acceptable: number): boolean => value <= acceptable * (1 + PRECISION);

export function decide(input: DecisionInput): Decided {
  const { grid, presentH } = input;
  const present = grid.find(({ intervalH }) => intervalH === presentH);
  if (!present) throw new Error(`the grid lacks the present interval ${presentH} h`);
  const boundsHold = ({ intervalH, risks }: IntervalRisks) =>
    input.firstInspectionH !== null &&
    intervalH <= input.firstInspectionH * (1 + PRECISION) &&
    risks.every(({ value, acceptable }) => value?.upper != null && within(value.upper, acceptable));
  const estimatesHold = ({ risks }: IntervalRisks) =>
    risks.every(({ value, acceptable }) => value !== null && within(value.estimate, acceptable));
  const longestByBoundH = longestUnbroken(grid, boundsHold);
  const longestByEstimateH = longestUnbroken(grid, estimatesHold);
  const capH = presentH * (1 + input.largestChange) * (1 + PRECISION);
  // Asked for only where the milder bound holds: the stricter one is dear to compute.
  const candidateH = longestUnbroken(
    grid.filter(({ intervalH }) => intervalH <= capH),
    (at) => boundsHold(at) && (at.intervalH <= presentH || boundsHold(input.beyondPresent(at.intervalH))),
  );
  const common = { candidateH, longestByBoundH, longestByEstimateH, governing: governingOf(present.risks) };
  const shorten = (row: 1 | 3, governing: string): Decided => ({
    ...common,
    row,
    answer: "shorten",
    governing,
    recommendedH: shorterThan(grid, presentH, boundsHold) ?? shorterThan(grid, presentH, estimatesHold),
  });
  const weighed = [...present.risks, input.functionalFailures];
  const established = weighed.find(
    ({ value, acceptable }) => value?.lower != null && over(value.lower, acceptable),
  );
  if (established) return shorten(1, established.name);
  if (present.risks.every(({ value }) => value === null || value.upper === null)) {
    return { ...common, row: 2, answer: "not enough evidence", recommendedH: presentH };
  }
  const likely = present.risks.find(
    ({ value, acceptable }) => value !== null && !within(value.estimate, acceptable),
  );
  if (likely) return shorten(3, likely.name);
  if (!boundsHold(present)) return { ...common, row: 4, answer: "keep", recommendedH: presentH };
  if (candidateH !== null && candidateH > presentH) {
    return input.mayExtendTo(candidateH)
      ? { ...common, row: 5, answer: "extend", recommendedH: candidateH }
      : { ...common, row: 6, answer: "keep", recommendedH: presentH };
  }
  return { ...common, row: 7, answer: "keep", recommendedH: presentH };
}

/** The longest interval such that it and every shorter one of the grid hold. */
function longestUnbroken(
  grid: readonly IntervalRisks[],
  holds: (at: IntervalRisks) => boolean,
): number | null {
  let longest: number | null = null;
  for (const at of grid) {
    if (!holds(at)) break;
    longest = at.intervalH;
  }
  return longest;
}

/** The longest interval below the present one that holds, every shorter one too. */
const shorterThan = (
  grid: readonly IntervalRisks[],
  presentH: number,
  holds: (at: IntervalRisks) => boolean,
): number | null =>
  longestUnbroken(
    grid.filter(({ intervalH }) => intervalH < presentH),
    holds,
  );

/** The risk whose upper bound (or, where none has one, estimate) is the largest share of what is acceptable. */
function governingOf(risks: readonly WeighedRisk[]): string | null {
  let worst: { name: string; ratio: number } | null = null;
  for (const { name, value, acceptable } of risks) {
    if (value === null) continue;
    const ratio = value.upper === null ? Number.POSITIVE_INFINITY : value.upper / acceptable;
    if (worst === null || ratio > worst.ratio) worst = { name, ratio };
  }
  return worst?.name ?? null;
}
