/** What a recommendation's choices cost, what would change them, and how a change is watched. Plain data for the pages. */
import type { Day } from "../units.ts";
import type { Bounded } from "./month-result.ts";

/** The longest interval that would be demonstrated under another setting; null: none. */
export interface OtherSetting {
  readonly value: number;
  readonly longestH: number | null;
}

/** A year more of data at the present pace, if the estimates stay: an approximation. */
export interface YearMore {
  readonly looks: number;
  /** Looks of the last twelve months: so many more are taken to come. */
  readonly more: number;
  readonly longestH: number | null;
}

/** A tighter replace-at limit at which the next longer interval would hold, and its price. */
export type TighterLimit =
  | {
      readonly kind: "found";
      readonly intervalH: number;
      readonly limitMm: number;
      /** Replacements for wear per 1000 hours of a component in the long run: at that limit, and at the present one. */
      readonly replacementsPer1000H: number;
      readonly replacementsPer1000HAtLimit: number;
    }
  | { readonly kind: "none"; readonly intervalH: number; readonly triedToMm: number };

/** What would change the answer. None of it is a recommendation. */
export interface WouldChange {
  /** By detection chance, and by unsafe-at limit in mm; empty without an unsafe risk. */
  readonly detection: readonly OtherSetting[];
  readonly unsafeAt: readonly OtherSetting[];
  /** null: no look was made in the last twelve months. */
  readonly yearMore: YearMore | null;
  /** null: no wear line to say, or no longer interval is in question. */
  readonly tighter: TighterLimit | null;
  /** A scenario: every seal in tolerance. null: not known. */
  readonly sealsIn: { readonly rateShare: number; readonly longestH: number } | null;
}

/** Chance of a component unsafe before it is seen, by exposure. */
export interface UnsafeRates {
  readonly perLook: Bounded;
  /** Per 1000 flight hours of one component. */
  readonly per1000H: Bounded;
}

/** An interval's price per 1000 flight hours of one component; null: not given, or no model to say. */
export interface ChoiceCost {
  readonly intervalH: number;
  readonly looksPer1000H: number;
  readonly manHoursPer1000H: number | null;
  readonly replacementsPer1000H: number | null;
  readonly unsafe: UnsafeRates | null;
}

export interface ChoiceCosts {
  readonly manHoursPerLook: number | null;
  /** Hours of the group's fitted components in the last twelve months; null without an export of hours flown. */
  readonly componentHoursPerYear: number | null;
  readonly rows: readonly ChoiceCost[];
}

/** "Go back at `finds` over-limit finds in the first `looks` looks." */
export interface GoBackNumber {
  readonly looks: number;
  readonly finds: number;
  /** Chance of so many finds or more if the share is as promised: at most this. */
  readonly falseAlarm: number;
}

export interface GoBackProposal {
  readonly promisedShare: number;
  readonly stage: GoBackNumber;
}

/** A change of the interval since it was made: what was found against what was promised and predicted. */
export interface SinceChange {
  readonly since: Day;
  readonly formerH: number | null;
  readonly promisedShare: number;
  /** Whether the decision names the promised share, or the acceptable one stands in for it. */
  readonly promisedBy: "decision" | "acceptable";
  readonly looks: number;
  readonly finds: number;
  readonly stage: GoBackNumber;
  readonly reached: boolean;
  /** What the lives before the change predict for these looks, with the exact two-sided p of what was found. */
  readonly predicted: { readonly finds: number; readonly p: number } | null;
  readonly whyNotPredicted: string | null;
}
