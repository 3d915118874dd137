/**
 * What a replay found: past months with what was known then, against what came after. The only input of record.html and
 * record.json. Plain data, already computed. Hours flight hours, days since 1970, shares and chances from 0 to 1.
 */
import type { Basis, ExportKind, Fleet } from "../fleet/fleet.ts";
import type { Answer, Bounded } from "../interval/month-result.ts";
import type { GroupKey } from "../records/life.ts";
import type { Day } from "../units.ts";

/** Which line of evidence predicted. */
export type Method = "life" | "wear";

/** Over-limit finds that a line predicted for the very looks made later, and those found. */
export interface CountRecord {
  readonly method: Method;
  readonly looks: number;
  /** Sum of the looks' chances by the line's best estimate, with one-sided bounds; null: the line has no such bound. */
  readonly predicted: Bounded;
  /** By the wear line found over the limit; by the life line also removals at a look that count as over limit. */
  readonly found: number;
  /** Exact two-sided p of the count found, the best estimate taken as true. */
  readonly p: number;
}

/** What became of a group after one past month-end. */
export interface GroupAfter {
  readonly group: GroupKey;
  /** Of each line that there was; none where the group had no line yet. */
  readonly counts: readonly CountRecord[];
  /** Looks made after the month-end, and those that found the component over the limit. */
  readonly looks: number;
  readonly found: number;
  /** Looks good by their number that ended in a removal which counts as over limit. */
  readonly removedEarly: number;
  /** Over-limit events of the lives that came between looks: early or unread removals, failures in service. */
  readonly between: number;
}

/** An answer of a past month, as that month's report would have given it. */
export interface PastAnswer {
  readonly task: string;
  readonly group: GroupKey;
  readonly basis: Basis;
  readonly presentIntervalH: number;
  readonly answer: Answer;
  /** Row of the decision table. */
  readonly row: number;
  readonly recommendedIntervalH: number | null;
  /** Longest interval whose bounds held, capped by the largest change; null: none. */
  readonly candidateH: number | null;
  readonly longestByBoundH: number | null;
  readonly governing: string | null;
  /** Evidence rules that failed. */
  readonly failed: readonly string[];
}

export interface PastMonth {
  /** YYYY-MM */
  readonly month: string;
  readonly asOf: Day;
  readonly isReview: boolean;
  /** Exports of which no file was there yet. */
  readonly missing: readonly ExportKind[];
  readonly files: number;
  readonly answers: readonly PastAnswer[];
  /** Last day of the looks that its predictions are held against. */
  readonly until: Day;
  readonly after: readonly GroupAfter[];
}

/** Each look once, predicted by the month-end that its stretch of months begins with. */
export interface TotalRecord {
  /** null: all groups together. */
  readonly group: GroupKey | null;
  readonly method: Method;
  readonly looks: number;
  readonly predicted: number;
  /** The same with every line at its upper bound; null where one had none. */
  readonly atMost: number | null;
  readonly found: number;
  readonly p: number;
}

/** Looks of one month, each predicted by the month-end that its stretch begins with. */
export interface MonthlyCount {
  readonly month: string;
  readonly method: Method;
  readonly looks: number;
  readonly predicted: number;
  /** Σ p·(1 − p): how far the count may lie from what is predicted by chance alone. */
  readonly variance: number;
  readonly found: number;
}

/** Next looks whose chance, as the watch list of then had it, lay between two levels. */
export interface ChanceBand {
  readonly from: number;
  readonly to: number;
  readonly looks: number;
  /** Mean of the chances given; null without a look. */
  readonly given: number | null;
  readonly over: number;
  /** Exact two-sided bounds; null without a look. */
  readonly share: Bounded | null;
}

export interface WatchCalibration {
  readonly looks: number;
  readonly given: number;
  readonly over: number;
  readonly p: number;
  readonly bands: readonly ChanceBand[];
}

/** What an answer would have allowed. */
export type ProposalKind = "extend" | "would pass" | "bounds held, rules failed";

/** Looks at a longer spacing, judged by what was really read of each component later. */
export interface GrantedLooks {
  /** Found over: by readings on both sides of the hours, or found over before them. */
  readonly over: number;
  /** Over by the component's own line carried on past its last reading. */
  readonly overCarriedOn: number;
  readonly below: number;
  readonly belowCarriedOn: number;
  /** It failed in service, or would have by then: the failure is on record at fewer hours than the look. */
  readonly failedBefore: number;
  readonly notKnown: number;
  /** Removed for another reason or moved before the look: none would have been made. */
  readonly leftBefore: number;
  /** Of those over, past the unsafe-at limit by the time of the look; null without such a limit. */
  readonly pastUnsafe: number | null;
  /** Over or failed, of the looks whose outcome is read or carried on, with exact two-sided bounds; null without one. */
  readonly share: Bounded | null;
}

/** One longer interval that was proposed, or whose bounds held, and what its granting would have meant. */
export interface GrantedRecord {
  readonly task: string;
  readonly group: GroupKey;
  readonly fromH: number;
  readonly toH: number;
  /** First month-end that had it, and in how many of the months replayed it was had. */
  readonly month: string;
  readonly asOf: Day;
  readonly months: number;
  readonly kind: ProposalKind;
  /** Rules that failed in that first month. */
  readonly failed: readonly string[];
  /** Hours between looks that are reckoned with: the longer interval, flown as late as the task allows. */
  readonly spacingH: number;
  /** Over limit per inspection at the longer interval as predicted then, the worse line; null: not computed. */
  readonly predicted: Bounded | null;
  readonly acceptable: number;
  readonly looks: GrantedLooks;
  /** Looks really made from that month-end on, and those over. */
  readonly made: { readonly looks: number; readonly over: number; readonly share: Bounded | null };
}

export interface RecordInput {
  readonly file: string;
  readonly kind: string;
  readonly sha256: string;
  /** Day of export; null: not recorded. */
  readonly exported: Day | null;
}

export interface PastRecord {
  readonly fleet: Fleet;
  /** YYYY-MM of the last month-end replayed. */
  readonly month: string;
  /** Last day of the record that past months are held against. */
  readonly asOf: Day;
  readonly program: string;
  readonly settingsSha256: string;
  readonly monthsAsked: number;
  /** Months after a month-end whose looks its predictions are held against. */
  readonly horizonMonths: number;
  readonly inputs: readonly RecordInput[];
  /** Exports without a date of export: later corrections of their rows can't be undone. */
  readonly undated: readonly ExportKind[];
  /** Oldest first. */
  readonly months: readonly PastMonth[];
  readonly skipped: readonly { readonly month: string; readonly why: string }[];
  readonly totals: readonly TotalRecord[];
  readonly monthly: readonly MonthlyCount[];
  readonly watch: WatchCalibration | null;
  readonly granted: readonly GrantedRecord[];
}
