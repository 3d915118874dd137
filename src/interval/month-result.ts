/**
 * What one month's run found: the only input of the pages and machine files. Plain data, already computed; a page
 * formats and draws, and fits nothing. Lengths mm, hours flight hours, rates per 1000 flight hours, days since 1970.
 */
import type { Basis, Decision, Fleet } from "../fleet/fleet.ts";
import type { UnknownWord } from "../records/exports.ts";
import type { Exclusion, GroupKey, Life } from "../records/life.ts";
import type { SettledLedger } from "../records/settle-rows.ts";
import type { GapQuarter } from "../trend/gap-quarters.ts";
import type { Day } from "../units.ts";
import type { Borrowed } from "./borrowed-result.ts";
import type { ChoiceCosts, GoBackProposal, SinceChange, WouldChange } from "./choices-result.ts";
import type { GroupLife, GroupModes, LifeChecks, PartLifeComparison } from "./life-findings.ts";
import type { RemovalTrend } from "./removal-findings.ts";
import type { WatchBand } from "./watch-record.ts";
import type { WearChecks } from "./wear-checks.ts";
import type { PartWear } from "./wear-findings.ts";
import type { WhatIf } from "./what-if-result.ts";

/** A quantity with its bounds; null where a bound does not exist or can't be had (`why` says which on the page). */
export interface Bounded {
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

export type ActNowKind =
  | "at or over unsafe-at limit"
  | "fitted at or over replace-at limit"
  | "look overdue"
  | "functional failure"
  | "go-back number reached";

/** One line of "act now". Nothing of it depends on a model. */
export interface ActNowLine {
  readonly kind: ActNowKind;
  readonly group: GroupKey;
  readonly serial: string;
  /** Where it is fitted: aircraft and position as recorded. */
  readonly where: string;
  /** What was read or counted, and the limit, in words with units. */
  readonly found: string;
  readonly limit: string;
  readonly day: Day;
  /** Source row as file:line. */
  readonly source: string;
}

/** Bounds of a decision risk are one-sided at the fleet file's confidence. */
export interface RiskAtInterval {
  readonly intervalH: number;
  readonly overLimitPerInspection: { readonly life: Bounded | null; readonly wear: Bounded | null };
  readonly unsafeBeforeSeen: Bounded | null;
}

export interface EvidenceOutcome {
  readonly rule: string;
  readonly asks: string;
  readonly found: string;
  readonly needed: string;
  readonly outcome: "passed" | "failed" | "not applicable";
  /** What would settle it; null where passed or not applicable. */
  readonly settle: string | null;
}

export type Answer = "extend" | "keep" | "shorten" | "not enough evidence";

export interface Recommendation {
  readonly slug: string;
  readonly task: string;
  readonly taskReference: string | null;
  readonly group: GroupKey;
  readonly basis: Basis;
  readonly presentIntervalH: number;
  /** Where the present interval comes from: the task, an exception of it, or a decision. */
  readonly presentFrom: string;
  readonly calendarMonths: number | null;
  readonly recommendation: Answer;
  /** Row of the decision table that applied, 1 to 7. */
  readonly row: number;
  /** null with "shorten": no interval on the grid is demonstrated. */
  readonly recommendedIntervalH: number | null;
  /** Longest interval whose bounds hold, every shorter one too, capped by the largest change; null: none. */
  readonly candidateH: number | null;
  /** Longest interval whose best estimates hold (every shorter one too); null: none. For the ruler. */
  readonly longestByEstimateH: number | null;
  readonly longestByBoundH: number | null;
  /** Which risk decides, in words; null where none could be computed. */
  readonly governing: string | null;
  readonly risks: readonly RiskAtInterval[];
  readonly counted: CountedAtPresent;
  readonly functionalFailures: FunctionalFailureCount;
  /** Lower bound of the life at which the acceptable share is over; null: no bound. */
  readonly firstInspectionHours: Bounded | null;
  /** Oldest component fitted and its chance of being over limit at its next look; null: nothing fitted or no model. */
  readonly oldest: {
    readonly serial: string;
    readonly hours: number;
    readonly chanceNextLook: Bounded;
  } | null;
  readonly evidence: readonly EvidenceOutcome[];
  /** One sentence an officer could read out. */
  readonly sentence: string;
  readonly notKnown: readonly string[];
  /** What the group, too thin by itself, took or asked from other groups. */
  readonly borrowed: readonly Borrowed[];
  readonly lastDecision: Decision | null;
  readonly actNow: readonly ActNowLine[];
  /** The last extension that a decision put into force, watched; null where none did. */
  readonly sinceChange: SinceChange | null;
  /** What would be watched after the extension recommended here; null where none is. */
  readonly goBackProposed: GoBackProposal | null;
  readonly wouldChange: WouldChange;
  readonly costs: ChoiceCosts;
  /** null where the present interval has no bound at all. */
  readonly whatIf: WhatIf | null;
  /** Hours actually observed: youngest entry and greatest age with 10 components of 3 aircraft at risk (null: none). */
  readonly observedToHours: number | null;
  /** The answer with early removals counted as censored instead of as events; the two are shown side by side. */
  readonly withEarlyRemovalsCensored: {
    readonly recommendation: Answer;
    readonly recommendedIntervalH: number | null;
  };
}

export interface CountedAtPresent {
  readonly overLimit: number;
  readonly looks: number;
  /** Clopper–Pearson, two-sided at the stated confidence; null with no looks. */
  readonly share: Bounded | null;
  readonly since: Day | null;
  /** Ages looked at, hours: smallest, median, largest; null with no looks. */
  readonly ages: { readonly smallest: number; readonly median: number; readonly largest: number } | null;
}

export interface FunctionalFailureCount {
  readonly failures: number;
  readonly hours: number;
  /** Exact Poisson bounds, each one-sided at the stated confidence; null without hours. */
  readonly per1000H: Bounded | null;
  readonly inLast24Months: number;
  /** Removals of the last 24 months that leave open whether they were failures in this group; where the first stands. */
  readonly open: number;
  readonly firstOpen: { readonly source: string; readonly why: string } | null;
  /** Why the exports can't show a failure at all; null where they can. */
  readonly lacks: string | null;
}

/** Wear of a group by REML: bounds two-sided at the stated confidence. */
export interface GroupWear {
  readonly components: number;
  readonly readings: number;
  readonly fit: {
    readonly interceptMm: Bounded;
    readonly ratePer1000H: Bounded;
    readonly componentSdRate: number;
    readonly componentSdInterceptMm: number;
    readonly measurementSdMm: number;
    readonly cautions: readonly string[];
  } | null;
  readonly why: string | null;
  /** Prediction band of a component's reading on a grid of hours (90 % of components), null without a fit. */
  readonly band: readonly {
    readonly hours: number;
    readonly meanMm: number;
    readonly lowMm: number;
    readonly highMm: number;
  }[];
  /** What the decision stands on: rates positive, survivors corrected. null: not usable, `whyNoDecisionFit` says so. */
  readonly decision: {
    readonly family: string;
    readonly medianRatePer1000H: Bounded;
    readonly p99RatePer1000H: Bounded;
    /** By components followed from new alone, where these are faster and too few for a bound; else null. */
    readonly p99Check: { readonly components: number; readonly ratePer1000H: number } | null;
  } | null;
  readonly whyNoDecisionFit: string | null;
}

export interface GroupResult {
  readonly key: GroupKey;
  readonly slug: string;
  readonly components: number;
  /** Of them those that the models saw; fewer only in a very large group (modelled-lives.ts). */
  readonly modelledComponents: number;
  readonly aircraft: readonly string[];
  readonly looks: number;
  readonly flightHours: number;
  readonly overLimitEvents: number;
  readonly earlyRemovals: number;
  readonly replaceAtMm: number;
  readonly unsafeAtMm: number | null;
  readonly presentIntervalsH: readonly number[];
  readonly life: GroupLife;
  readonly wear: GroupWear;
  readonly wearChecks: WearChecks;
  /** null without a life fit. */
  readonly lifeChecks: LifeChecks | null;
  readonly modes: GroupModes;
  /** Pieces of lives in this group (readings are in them). */
  readonly lives: readonly Life[];
}

export type { GapQuarter };

export interface WatchLine {
  readonly group: GroupKey;
  readonly serial: string;
  readonly where: string;
  readonly lastReadingMm: number;
  readonly lastReadingDay: Day;
  readonly hoursAtLastReading: number;
  /** The last look, be it in words: hours left and the chance at the next look are counted from there. */
  readonly hoursAtLastLook: number;
  readonly lastLookDay: Day;
  /** Hours flown between that look and the as-of day by the roster or the flying export; null where neither says. */
  readonly hoursFlownSince: number | null;
  /** Chance of being at or over the limit by the next look. */
  readonly chanceByNextLook: number;
  /** Hours from the last look (not from now) to the limit: median and the 5 % and 95 % points; null where beyond reckoning. */
  readonly hoursLeft: Bounded | null;
}

/** A problem code with its count and first examples. */
export interface ProblemCount {
  readonly code: string;
  readonly file: string;
  readonly count: number;
  readonly examples: readonly string[];
}

/** A line of "what changed since last month and why". */
export interface Change {
  readonly what: string;
  readonly why: string;
}

export interface Month {
  readonly fleet: Fleet;
  /** YYYY-MM */
  readonly month: string;
  readonly asOf: Day;
  /** Latest date in the exports; null where no row has one. */
  readonly latestDay: Day | null;
  /** True where this is a month of `reviews` (or none are given). */
  readonly isReview: boolean;
  readonly program: string;
  readonly settingsSha256: string;
  readonly inputs: readonly SettledLedger[];
  readonly unknownWords: readonly UnknownWord[];
  readonly problems: readonly ProblemCount[];
  readonly exclusions: readonly Exclusion[];
  /** Serial of each component number. */
  readonly serials: readonly string[];
  readonly actNow: readonly ActNowLine[];
  readonly groups: readonly GroupResult[];
  readonly recommendations: readonly Recommendation[];
  readonly watchList: readonly WatchLine[];
  /** Past looks predicted as the watch list predicts, against what was found. */
  readonly watchRecord: readonly WatchBand[];
  /** Of each part with lives. */
  readonly partWear: readonly PartWear[];
  readonly trends: readonly RemovalTrend[];
  readonly lifeComparisons: readonly PartLifeComparison[];
  readonly gapQuarters: readonly GapQuarter[];
  /** null: no earlier month to compare with. */
  readonly changes: readonly Change[] | null;
}
