/**
 * The simulation study as method.html and the README show it: what the program recommended to fleets whose true risks are
 * known. Written by `npm run study`; limits are Clopper and Pearson's, two-sided at 95 %, as shares of one.
 */

/** A count among others, with the limits of the share. */
export interface Counted {
  readonly n: number;
  readonly of: number;
  readonly lower: number;
  readonly upper: number;
}

export interface StudyRow {
  /** What sort of fleet, in words. */
  readonly kind: string;
  readonly fleets: number;
  /** Extensions to an interval at which a true risk is over the acceptable one, among all extensions. */
  readonly unsafe: Counted;
  /** The same where 200 components or more were read. */
  readonly unsafeWhereMany: Counted;
  /** Fleets that any extension would have been unsafe for and that got one at one of three yearly reviews. */
  readonly everExtended: Counted;
  /** Not shortened although a true risk at the present interval was over twice the acceptable one: 60 components or looks seen. */
  readonly missed: Counted;
  /** The same where fewer were seen. */
  readonly missedWhereFew: Counted;
  /** One-sided 95 % upper bounds at the present interval that lay under the true risk: share of looks by wear, and unsafe. */
  readonly wearBoundUnder: Counted;
  readonly unsafeBoundUnder: Counted;
}

export interface StudyPower {
  /** Longest interval with the rates known exactly, over the present one: from, and up to but without; null: no end. */
  readonly from: number;
  readonly to: number | null;
  readonly extended: Counted;
}

export interface StudyTable {
  /** Commit of the program that was studied. */
  readonly commit: string;
  /** YYYY-MM-DD */
  readonly date: string;
  /** "100001 to 100300" */
  readonly seeds: string;
  /** How often these seeds were run, this run included. */
  readonly runs: number;
  readonly all: StudyRow;
  readonly rows: readonly StudyRow[];
  /** True risk over the acceptable one at the intervals extended to: 95th percentile and largest, a later batch left out; null without any. */
  readonly overshoot: { readonly p95: number; readonly largest: number } | null;
  /** Gentle fleets with 60 components, four years and an unsafe-at limit that could have been extended by half or more. */
  readonly power: Counted;
  /** Of all kinds, fleets so large and with an unsafe-at limit, by what could have been. */
  readonly powerBy: readonly StudyPower[];
  /** Shortened although both true risks at the present interval were acceptable, among fleets of which that is so. */
  readonly needless: Counted;
}
