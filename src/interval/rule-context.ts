/** What the evidence rules of one task and group look at. Everything is computed before; a rule only compares. */
import type { Decision, Fleet, Task } from "../fleet/fleet.ts";
import type { GroupKey, Life } from "../records/life.ts";
import type { Day } from "../units.ts";
import type { Borrowed } from "./borrowed-result.ts";
import type { GoBackWatch } from "./go-back-watch.ts";
import type { Bounded, CountedAtPresent, FunctionalFailureCount, RiskAtInterval } from "./month-result.ts";

/** A check that another stage made; null: it could not be made, so its rule fails. */
export interface CheckResult {
  readonly passed: boolean;
  readonly found: string;
  /** What would settle it, where that is not what the rule says: a check that its model is missing for. */
  readonly settle?: string;
}

/** A check that could not be made, its model missing. */
export const notMade = (what: string, why: string): CheckResult => ({
  passed: false,
  found: `could not be computed without a ${what}: ${why}`,
  settle: `what the ${what} lacks`,
});

export interface RuleContext {
  readonly fleet: Fleet;
  readonly task: Task;
  readonly group: GroupKey;
  readonly asOf: Day;
  readonly presentH: number;
  readonly isReview: boolean;
  readonly lives: readonly Life[];
  readonly counted: CountedAtPresent;
  readonly functionalFailures: FunctionalFailureCount;
  /** Risks at the capped candidate (or at the present interval where there is no longer one). */
  readonly atCandidate: RiskAtInterval;
  /** Age at which 10 % are over the limit by the life fit; null without a fit. */
  readonly tenPercentHours: number | null;
  /** Its next look comes after the candidate interval. */
  readonly oldest: {
    readonly serial: string;
    readonly hours: number;
    readonly chanceNextLook: Bounded;
  } | null;
  /** Share of due looks with a number, and how many looks that is of. */
  readonly looksWithNumber: { readonly numbers: number; readonly looks: number };
  /** Rows of the wear and removal exports; unassigned: with a word that the fleet file doesn't know. */
  readonly rows: { readonly read: number; readonly rejected: number; readonly unassigned: number };
  /** Of its part's removal rate in its environment. */
  readonly alert: { readonly open: boolean | null; readonly why: string | null } | "no rates";
  readonly lastDecision: Decision | null;
  /** The watch of the last extension by a decision; null where none is in force. */
  readonly goBack: GoBackWatch | null;
  readonly checks: {
    readonly spreadAsModelled: CheckResult | null;
    readonly heaping: CheckResult | null;
    readonly fitAlternative: CheckResult | null;
    /** Whether hardly any fitted component gets near the limit before two more looks. */
    readonly farFromLimit: CheckResult | null;
    readonly linesAgree: CheckResult | null;
    readonly upperExponent: CheckResult | null;
    readonly wearWhenFound: CheckResult | null;
  };
  /** What the group took, or asked, from other groups. */
  readonly borrowed: readonly Borrowed[];
  /** Safeguards this version does not compute yet, in words. While one is missing nothing is extended. */
  readonly safeguardsMissing: readonly string[];
}
