/**
 * The ordered decision table: the first row that applies gives the answer. Pure; everything it weighs comes in.
 */
import type { Answer } from "./month-result.ts";
import {
  boundHolds,
  estimateHolds,
  gravestOver,
  likelyOver,
  nearestLimit,
  PRECISION,
  surelyOver,
  type WeighedRisk,
} from "./weighed-risk.ts";

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
  /**
   * Shorten: the risk furthest over what is acceptable. Extend: the one nearest to it at the recommended interval; else at
   * the present one. null where none could be computed.
   */
  readonly governing: string | null;
  /** Every risk over at the present interval, by its lower bound or its best estimate, the gravest first. */
  readonly over: readonly string[];
}

export function decide(input: DecisionInput): Decided {
  const { grid, presentH } = input;
  const present = grid.find(({ intervalH }) => intervalH === presentH);
  if (!present) throw new Error(`the grid lacks the present interval ${presentH} h`);
  const boundsHold = ({ intervalH, risks }: IntervalRisks) =>
    input.firstInspectionH !== null &&
    intervalH <= input.firstInspectionH * (1 + PRECISION) &&
    risks.every(boundHolds);
  const estimatesHold = ({ risks }: IntervalRisks) => risks.every(estimateHolds);
  const longestByBoundH = longestUnbroken(grid, boundsHold);
  const longestByEstimateH = longestUnbroken(grid, estimatesHold);
  const capH = presentH * (1 + input.largestChange) * (1 + PRECISION);
  // Asked for only where the milder bound holds: the stricter one is dear to compute.
  const candidateH = longestUnbroken(
    grid.filter(({ intervalH }) => intervalH <= capH),
    (at) => boundsHold(at) && (at.intervalH <= presentH || boundsHold(input.beyondPresent(at.intervalH))),
  );
  const weighed = [...present.risks, input.functionalFailures];
  const over = gravestOver(weighed).map(({ name }) => name);
  const common = { candidateH, longestByBoundH, longestByEstimateH, over };
  const shorten = (row: 1 | 3): Decided => ({
    ...common,
    row,
    answer: "shorten",
    governing: over[0]!,
    recommendedH: shorterThan(grid, presentH, boundsHold) ?? shorterThan(grid, presentH, estimatesHold),
  });
  const stay = (row: 2 | 4 | 6 | 7, answer: Answer = "keep"): Decided => ({
    ...common,
    ...{ row, answer, recommendedH: presentH },
    governing: nearestLimit(present.risks)?.name ?? null,
  });
  if (weighed.some(surelyOver)) return shorten(1);
  if (present.risks.every(({ value }) => value === null || value.upper === null)) {
    return stay(2, "not enough evidence");
  }
  if (present.risks.some(likelyOver)) return shorten(3);
  if (!boundsHold(present)) return stay(4);
  if (candidateH === null || candidateH <= presentH) return stay(7);
  if (!input.mayExtendTo(candidateH)) return stay(6);
  const { risks } = grid.find(({ intervalH }) => intervalH === candidateH)!;
  const governing = nearestLimit(risks)!.name;
  return { ...common, row: 5, answer: "extend", recommendedH: candidateH, governing };
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
