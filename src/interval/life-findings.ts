/** What a month says about lives beside each group's own fit: checks, failure modes, comparisons. Plain data for the pages. */
import type { Day } from "../units.ts";
import type { Bounded } from "./month-result.ts";

/** Weibull of a group: bounds two-sided likelihood-ratio at the stated confidence. */
export interface GroupLife {
  readonly lives: number;
  readonly events: number;
  readonly running: number;
  readonly lateEntries: number;
  readonly weibull: {
    readonly shape: Bounded;
    readonly scaleHours: Bounded;
    /** Life at which 10 % are over the limit. */
    readonly tenPercentHours: Bounded;
    readonly logLikelihood: number;
  } | null;
  readonly why: string | null;
  /** What lives without any event show, in a sentence; null where there was one. */
  readonly zeroEvents: string | null;
  /** Nonparametric curve with log-log bounds. */
  readonly survival: readonly {
    readonly hours: number;
    readonly survival: number;
    readonly lower: number | null;
    readonly upper: number | null;
  }[];
  /** Fitted curve on a grid of hours, null without a fit. */
  readonly curve: readonly {
    readonly hours: number;
    readonly survival: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  /** Exact, interval, left and running lives, for marks. */
  readonly marks: readonly {
    readonly kind: "exact" | "interval" | "left" | "running";
    readonly lower: number;
    readonly upper: number | null;
  }[];
}

/** How far the Weibull of a group's lives can be trusted. */
export interface LifeChecks {
  /** The best other distribution, and the over-limit share per inspection under both; null where none could be fitted. */
  readonly alternative: {
    readonly family: string;
    /** Its AIC less the Weibull's: below 0 it fits better. */
    readonly aicDifference: number;
    readonly spacingH: number;
    readonly weibullShare: number;
    readonly share: number;
  } | null;
  /** The fitted curve against the nonparametric one's pointwise 95 % bounds; null where that has none. */
  readonly curve: {
    readonly points: number;
    readonly outside: number;
    readonly greatestDistance: number;
    readonly atHours: number;
    readonly agrees: boolean;
  } | null;
  /** Those whose leaving out moves the 10 % life most, greatest first. */
  readonly influence: readonly {
    readonly kind: "aircraft" | "life";
    /** Aircraft, or serial of the life's component. */
    readonly name: string;
    readonly lives: number;
    /** The 10 % life without it over the one with it; null: nothing can be fitted without it. */
    readonly lifeRatio: number | null;
  }[];
  /** What shortcuts would have said of the 10 % life, in sentences. */
  readonly shortcuts: readonly { readonly sentence: string; readonly lifeRatio: number | null }[];
}

/** The chance of a failure mode by some hours, pointwise two-sided bounds; null: none. */
export interface IncidencePoint {
  readonly hours: number;
  readonly chance: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

/** Failure modes of a group, each competing with the others. */
export interface GroupModes {
  /** The chances are those by these hours, given that `givenHours` were reached (0: from new). */
  readonly atHours: number;
  readonly givenHours: number;
  readonly modes: readonly {
    readonly mode: string;
    readonly events: number;
    readonly chance: Bounded;
    /** Its chance along the hours; empty where no event was found by `atHours`. */
    readonly curve: readonly IncidencePoint[];
    /** As if no other mode took components off: overstated, shown for that. */
    readonly chanceAlone: number;
    /** Weibull of this mode with the others as censoring, two-sided bounds; null: no fit, and why. */
    readonly shape: Bounded | null;
    readonly tenPercentHours: Bounded | null;
    readonly why: string | null;
  }[];
}

/** One standard against an older one in one environment, over the days on which both were under observation. */
export interface StandardComparison {
  readonly environment: string;
  readonly of: string;
  readonly against: string;
  readonly fromDay: Day;
  readonly toDay: Day;
  readonly lives: { readonly of: number; readonly against: number };
  /** Over-limit events among them. */
  readonly events: { readonly of: number; readonly against: number };
  readonly compared: {
    /** Lives of `of` over lives of `against`, two-sided bounds. */
    readonly ratio: Bounded;
    /** Equal lives against a ratio: likelihood ratio. */
    readonly p: number;
    /** One shape against two; null where one of them has no fit of its own. */
    readonly shapeP: number | null;
    /** Equal removals for cause: log-rank; null without removals. */
    readonly removalsP: number | null;
    readonly sentence: string;
  } | null;
  /** Why there is no comparison. */
  readonly why: string | null;
}

/** Lives of one part compared across environments and standards. */
export interface PartLifeComparison {
  readonly part: string;
  /** The days the effects are taken from: those on which every standard was under observation. */
  readonly fromDay: Day;
  readonly toDay: Day;
  readonly standards: readonly StandardComparison[];
  /** One shape for all groups with a fit, against a shape for each; null with fewer than two such groups. */
  readonly shape: {
    readonly groups: number;
    readonly shape: number;
    readonly chiSquared: number;
    readonly degreesOfFreedom: number;
    readonly p: number;
  } | null;
  /** Ratio of lives at a level to lives at the commonest, the other factor being equal; two-sided bounds. */
  readonly effects: readonly {
    readonly factor: string;
    readonly level: string;
    readonly against: string;
    readonly ratio: Bounded;
  }[];
  /** Does the effect of a standard depend on the environment? null where that can't be tested. */
  readonly interactionP: number | null;
  readonly whyNoEffects: string | null;
}
