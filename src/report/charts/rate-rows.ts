/** Rates of one part's groups as a chart draws them, fastest first: of one model of all groups where there is one. */
import type { Bounded, GroupResult } from "../../interval/month-result.ts";
import type { RateComparison } from "../../interval/rate-comparison.ts";
import { brackets, fixed } from "../number-format.ts";
import { type EnvironmentStyle, styleOf } from "./theme.ts";

export interface RateRow {
  /** "sandy, plain" */
  readonly group: string;
  readonly colour: string;
  /** mm per 1000 flight hours. */
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
  /** Rate over that of the slowest group; null where the fitted rate shows no rise. Bounds from the joint model only. */
  readonly ratio: number | null;
  readonly ratioLower: number | null;
  readonly ratioUpper: number | null;
  readonly ratioText: string;
  readonly components: number;
}

export interface UnfittedRow {
  readonly group: string;
  readonly why: string;
}

export interface RateInput {
  /** True: rates and ratios are of one model of all groups, adjusted for each other and for aircraft. */
  readonly adjusted: boolean;
  readonly fitted: readonly RateRow[];
  readonly unfitted: readonly UnfittedRow[];
}

/** "sandy, plain" */
export const nameOf = (group: GroupResult): string => `${group.key.environment}, ${group.key.standard}`;

/** A group's rate as it is drawn, and how many times the slowest it is; null: it has none. */
interface Rated {
  readonly rate: Bounded;
  /** null: no rise, or (estimate 1) the slowest. */
  readonly times: Bounded | null;
}

/**
 * Groups with a rate from the fastest to the slowest, then those without one.
 *
 * @param comparison  all groups in one model; where there is none, each group's own fit, and ratios without bounds
 */
export function rateRows(
  groups: readonly GroupResult[],
  styles: ReadonlyMap<string, EnvironmentStyle>,
  comparison: RateComparison | null,
): RateInput {
  const adjusted = comparison?.kind === "fitted";
  const rated = adjusted ? (group: GroupResult) => compared(group, comparison) : ownRates(groups);
  const fitted = groups.flatMap((group): RateRow[] => {
    const one = rated(group);
    if (one === null) return [];
    const { rate, times } = one;
    return [
      {
        group: nameOf(group),
        colour: styleOf(styles, group.key.environment).colour,
        rate: rate.estimate,
        lower: rate.lower ?? rate.estimate,
        upper: rate.upper ?? rate.estimate,
        ratio: times?.estimate ?? null,
        ratioLower: times?.lower ?? null,
        ratioUpper: times?.upper ?? null,
        ratioText: ratioInWords(times, groups.length),
        components: group.components,
      },
    ];
  });
  fitted.sort((a, b) => b.rate - a.rate || (a.group < b.group ? -1 : 1));
  const unfitted = groups
    .filter((group) => rated(group) === null)
    .map((group) => ({ group: nameOf(group), why: `no fit: ${group.wear.why ?? "too few components"}` }));
  return { adjusted, fitted, unfitted };
}

/** A group with a fit of its own, by the model of all groups; without one of its own it stays without. */
function compared({ key, wear }: GroupResult, comparison: RateComparison & { kind: "fitted" }): Rated | null {
  if (wear.fit === null) return null;
  const { rates } = comparison;
  const found = rates.find(
    ({ environment, standard }) => environment === key.environment && standard === key.standard,
  );
  if (found === undefined) return null;
  const slowest = rates.at(-1) === found && found.ratePer1000H.estimate > 0;
  return {
    rate: found.ratePer1000H,
    times: slowest ? { estimate: 1, lower: null, upper: null } : found.timesSlowest,
  };
}

function ownRates(groups: readonly GroupResult[]): (group: GroupResult) => Rated | null {
  const slowest = groups.reduce(
    (least, group) => Math.min(least, positive(group.wear.fit?.ratePer1000H.estimate)),
    Number.POSITIVE_INFINITY,
  );
  return ({ wear }) => {
    const rate = wear.fit?.ratePer1000H;
    if (rate === undefined) return null;
    const times = rate.estimate > 0 ? { estimate: rate.estimate / slowest, lower: null, upper: null } : null;
    return { rate, times };
  };
}

/** "3.4 times", with its bounds "3.4 × (2.9–4.0)". */
function ratioInWords(times: Bounded | null, groups: number): string {
  if (times === null) return "no rise";
  if (times.estimate === 1) return groups === 1 ? "" : "slowest";
  if (times.lower === null && times.upper === null) return `${fixed(times.estimate, 1)} times`;
  return `${fixed(times.estimate, 1)}× ${brackets(times, (value, rounding) => fixed(value, 1, rounding))}`;
}

const positive = (rate: number | undefined): number =>
  rate !== undefined && rate > 0 ? rate : Number.POSITIVE_INFINITY;
