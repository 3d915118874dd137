/** What a month says about removals over time. Plain data for the pages. */
import type { Bounded } from "./month-result.ts";

export interface RemovalMonth {
  readonly month: string;
  readonly flightHours: number;
  readonly removals: number;
  readonly unscheduled: number;
  /** Unscheduled removals per 1000 flight hours with exact Poisson limits (two-sided, stated confidence). */
  readonly per1000H: Bounded | null;
  /** Count at or above which a month is over the 99 % limit. */
  readonly alertCount: number | null;
  readonly over: boolean;
}

export interface RemovalTrend {
  readonly part: string;
  readonly environment: string;
  readonly months: readonly RemovalMonth[];
  /** 2 of the last 3 months over the limit. */
  /** null: not known, months with removals having no alert level. */
  readonly alert: boolean | null;
  /** Why it is open or not known. */
  readonly alertWhy: string | null;
  readonly causes: readonly {
    readonly mode: string;
    readonly removals: number;
    /** The shop confirmed it; the shop found no fault; no finding is recorded. */
    readonly confirmed: number;
    readonly unconfirmed: number;
    readonly noFinding: number;
  }[];
  /**
   * Mean flight hours between removals, exact two-sided limits: every removal, those for cause, and those for cause that
   * the shop did not clear. null where nothing flew.
   */
  readonly meanHoursBetween: {
    readonly all: MeanBetween | null;
    readonly unscheduled: MeanBetween | null;
    readonly failures: MeanBetween | null;
  };
  readonly overHours: TrendOverHours;
  readonly perAircraft: PerAircraft;
}

/** Without a removal there is a lower limit only. */
export interface MeanBetween {
  readonly removals: number;
  readonly estimate: number | null;
  readonly lower: number;
  readonly upper: number | null;
}

/** Unscheduled removals on the fleet's cumulative flight hours: is their rate changing? */
export interface TrendOverHours {
  readonly events: number;
  readonly hours: number;
  /** Events that could not be placed on the hours. */
  readonly leftOut: number;
  /** Standard normal where the rate is constant; over 0: worsening. null with fewer than 3 events. */
  readonly laplace: { readonly z: number; readonly pTwoSided: number } | null;
  /** χ² on twice as many degrees of freedom as events; small: worsening. null without events. */
  readonly militaryHandbook: { readonly chiSquared: number; readonly pTwoSided: number } | null;
  /** Exponent of expected removals in hours, over 1: coming faster; each estimate by its variant, exact two-sided bounds. */
  readonly powerLaw: {
    readonly maximumLikelihood: number;
    readonly modified: number;
    readonly lower: number;
    readonly upper: number;
    readonly cramerVonMises: number;
  } | null;
}

/** Unscheduled removals per aircraft by its own flight hours there: mean cumulative function, two-sided bounds. */
export interface PerAircraft {
  readonly aircraft: number;
  readonly leftOut: number;
  readonly points: readonly {
    readonly hours: number;
    readonly atRisk: number;
    readonly mean: number;
    readonly lower: number;
    readonly upper: number;
  }[];
}
