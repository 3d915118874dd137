/** All groups of a table compared: ratios of lives to the group with most, one shape for all, and the log-rank test. */
import { published } from "../units.ts";
import type { ChiSquaredTest } from "./chi-squared-test.ts";
import { commonShape, compareLives } from "./comparisons.ts";
import { logRank } from "./log-rank.ts";
import type { LifeGroup } from "./parse-life-table.ts";

export interface TestJson {
  readonly chi_squared: number;
  readonly degrees_of_freedom: number;
  readonly p: number;
}

export interface RatioJson {
  readonly group: string;
  /** Lives of the group over lives of `against`, with two-sided bounds; null where none could be fitted, and `why`. */
  readonly ratio: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly p: number | null;
  readonly sentence: string | null;
  readonly why?: string;
}

export interface ComparisonJson {
  readonly against: string;
  readonly ratios: readonly RatioJson[];
  /** One shape with separate scales, tested against a shape for each group; null where it can't be fitted. */
  readonly common_shape: (TestJson & { readonly shape: number }) | null;
  /** null where an event is known by its interval only. */
  readonly log_rank: TestJson | null;
}

/** @param confidence  of the two-sided bounds */
export function compareGroups(groups: readonly LifeGroup[], confidence: number): ComparisonJson {
  const livesOf = ({ table }: LifeGroup) => table.count.reduce((sum, count) => sum + count, 0);
  const against = groups.reduce((most, group) => (livesOf(group) > livesOf(most) ? group : most));
  const shared = commonShape(groups);
  const ranks = logRank(groups);
  return {
    against: against.group,
    ratios: groups.flatMap((group) =>
      group === against ? [] : ratioResult(group, compareLives(group, against, confidence)),
    ),
    common_shape:
      shared.kind === "fitted" && shared.test !== null
        ? { shape: published(shared.shape), ...testResult(shared.test) }
        : null,
    log_rank: ranks.kind === "tested" ? testResult(ranks) : null,
  };
}

function ratioResult({ group }: LifeGroup, compared: ReturnType<typeof compareLives>): RatioJson {
  if (compared.kind === "none") {
    return { group, ratio: null, lower: null, upper: null, p: null, sentence: null, why: compared.why };
  }
  return {
    group,
    ratio: published(compared.ratio),
    lower: published(compared.lower),
    upper: published(compared.upper),
    p: published(compared.test.p),
    sentence: compared.sentence,
  };
}

const testResult = ({ chiSquared, degreesOfFreedom, p }: ChiSquaredTest): TestJson => ({
  chi_squared: published(chiSquared),
  degrees_of_freedom: degreesOfFreedom,
  p: published(p),
});
