/**
 * What a simulated maintenance system writes down, row by row, and what was true behind it.
 *
 * Days count from 1970-01-01; aircraft and components are numbers from 0 (components within their part).
 * Component hours are flight hours since new, to a tenth.
 */
import type { Day } from "../units.ts";

/** One look. `recorded` is what stands in the wear column. */
export interface LookRow {
  readonly component: number;
  readonly aircraft: number;
  readonly position: number;
  readonly day: Day;
  readonly hours: number;
  readonly recorded:
    | { readonly kind: "number"; readonly wearMm: number }
    | { readonly kind: "word"; readonly overLimit: boolean };
  /** The base as written down (with `wrongBaseShare`, sometimes another). */
  readonly base: string;
  readonly environment: string;
  readonly standard: string;
  /** True wear at the look: never exported. */
  readonly trueWearMm: number;
}

export interface GapRow {
  readonly component: number;
  readonly aircraft: number;
  readonly position: number;
  readonly day: Day;
  readonly hours: number;
  readonly gapMm: number;
  readonly state: "found" | "left";
  readonly standard: string;
}

/** Why a component came off. `modification`: a new component came with a new ring. */
export type RemovalCause = "wear" | "seal" | "time expired" | "convenience" | "modification";

export interface RemovalRow {
  readonly component: number;
  readonly aircraft: number;
  readonly position: number;
  readonly day: Day;
  readonly hours: number;
  readonly cause: RemovalCause;
  readonly foundAt: "inspection" | "service";
  /** Null: the shop said nothing. */
  readonly finding: "confirmed" | "no fault found" | null;
  readonly base: string;
  readonly environment: string;
  readonly standard: string;
  readonly trueWearMm: number;
  /** The function was lost in service by wear. */
  readonly functionalFailure: boolean;
}

/** A component fitted at the end of the simulated time. */
export interface InstalledRow {
  readonly component: number;
  readonly aircraft: number;
  readonly position: number;
  readonly installedOn: Day;
  readonly hoursAtInstallation: number;
  readonly hoursNow: number;
  readonly base: string;
  readonly standard: string;
}

export interface FlyingRow {
  readonly aircraft: number;
  readonly month: number;
  readonly base: string;
  readonly environment: string;
  readonly hours: number;
}

/** One component as it truly is. */
export interface TrueComponent {
  readonly component: number;
  readonly madeInMonth: number;
  readonly newWearMm: number;
  /** Its own standard normal draw, the aircraft's effect left out. */
  readonly ownEffect: number;
  readonly badBatch: boolean;
}

/** Sums of what truly happened in one environment with one standard, while records were kept. */
export interface TrueGroup {
  readonly environment: string;
  readonly standard: string;
  hours: number;
  /** Hours × true rate, for the mean rate over hours flown below the limit. */
  wearMm: number;
  looks: number;
  looksTrulyOverLimit: number;
  looksReadOverLimit: number;
  functionalFailures: number;
}

export interface PartRecord {
  readonly part: string;
  readonly looks: readonly LookRow[];
  readonly gaps: readonly GapRow[];
  readonly removals: readonly RemovalRow[];
  readonly installed: readonly InstalledRow[];
  readonly components: readonly TrueComponent[];
  readonly groups: readonly TrueGroup[];
}
