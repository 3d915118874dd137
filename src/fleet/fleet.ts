/**
 * The fleet file after it was read and checked: where the exports are, how to read them, and what limits, intervals and
 * risks apply. Everything downstream takes this and checks nothing again. Lengths in mm, intervals in flight hours.
 */
import type { Day, LengthUnit } from "../units.ts";

export type ExportKind = "wear" | "gaps" | "removals" | "installed" | "flying";

/** How hours are counted in an export: what is zero. */
export type Clock = "since new" | "since overhaul" | "since fitted" | "airframe";

/** Our names for the columns an export may have. */
export type FieldName =
  | "component"
  | "part"
  | "date"
  | "hours"
  | "wear"
  | "gap"
  | "state"
  | "aircraft"
  | "position"
  | "environment"
  | "standard"
  | "cause"
  | "found"
  | "finding"
  | "installed_on"
  | "hours_at_installation"
  | "hours_now"
  | "month";

/** How an export is written; null: detect it and report the evidence. */
export interface ExportFormat {
  readonly delimiter: string | null;
  readonly decimal: "." | "," | null;
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252" | null;
  /** A pattern of yyyy, MM, MMM, dd and literal separators, such as dd.MM.yyyy, with HH:mm or HH:mm:ss allowed after. */
  readonly dates: string | null;
}

/** When a file was exported: from its name, from a column, or not known. */
export type ExportedSource =
  | { readonly from: "name"; readonly pattern: string }
  | { readonly from: "column"; readonly column: string }
  | null;

export interface ExportSpec {
  readonly kind: ExportKind;
  /** Patterns relative to the fleet file's folder (or --exports DIR). */
  readonly files: readonly string[];
  readonly exported: ExportedSource;
  readonly format: ExportFormat;
  /** Unit of wear or gap where a cell doesn't say; null: from the heading or the cell, else an error that asks. */
  readonly unit: LengthUnit | { readonly column: string } | null;
  readonly clock: Clock;
  /** Our field name → heading in the export. */
  readonly columns: Readonly<Partial<Record<FieldName, string>>>;
}

/** Recorded word → what it means here. */
export interface FleetWords {
  /** Recorded value → environment. */
  readonly environments: ReadonlyMap<string, string>;
  readonly standards: ReadonlyMap<string, string>;
  readonly gapStates: ReadonlyMap<string, "found" | "left">;
  readonly foundAt: ReadonlyMap<string, "inspection" | "service">;
  readonly findings: ReadonlyMap<string, "confirmed" | "no fault found">;
  readonly wearWords: ReadonlyMap<string, "below limit" | "over limit">;
  /** Recorded cause → failure mode; "not a failure" for removals that are none. "wear" is the mode the limits are about. */
  readonly causes: ReadonlyMap<string, string>;
}

export { SINGLE_STANDARD, UNASSIGNED } from "../records/words.ts";

export interface Part {
  readonly part: string;
  readonly partNumbers: readonly string[];
  readonly replaceAtMm: number;
  readonly replaceAtReference: string | null;
  readonly unsafeAtMm: number | null;
  readonly beyondLimitFactor: number;
}

export interface SealGapTolerance {
  readonly standard: string;
  readonly lowMm: number;
  readonly highMm: number;
}

export type Basis = "programme" | "airworthiness limitation" | "directive";

export interface TaskException {
  readonly environment: string | null;
  readonly standard: string | null;
  readonly intervalH: number;
}

export interface Task {
  readonly task: string;
  readonly part: string;
  readonly basis: Basis;
  readonly reference: string | null;
  readonly intervalH: number;
  /** How late a look may be, as a share of the interval. */
  readonly tolerance: number;
  /** Printed, never extended. */
  readonly calendarMonths: number | null;
  readonly exceptions: readonly TaskException[];
  readonly manHours: number | null;
}

export type DecisionOutcome = "approved" | "refused" | "deferred" | "trial";

export interface Decision {
  readonly task: string;
  readonly environment: string | null;
  readonly standard: string | null;
  readonly intervalH: number;
  readonly on: Day;
  readonly outcome: DecisionOutcome;
  readonly reference: string | null;
  /** What must be met before a refused or deferred proposal comes again, as the file says it. */
  readonly revisit: string | null;
  /** Share of looks found over limit that an approval or trial was granted on; null: not said, so the acceptable one. */
  readonly promisedShare: number | null;
}

export interface Acceptable {
  readonly unsafeBeforeSeen: number;
  readonly overLimitPerInspection: number;
  readonly functionalFailuresPer1000H: number;
  /** Chance that one look is properly made and sees it; there is no default, null where not given. */
  readonly detectionChance: number | null;
  readonly detectionReference: string | null;
  readonly confidence: number;
}

/** Thresholds of the evidence rules; the defaults stand in fleet/defaults.ts with their reasons. */
export interface EvidenceThresholds {
  readonly minimumLives: number;
  readonly minimumAircraft: number;
  readonly largestAircraftShare: number;
  readonly looksAtPresentInterval: number;
  readonly presentIntervalBand: number;
  readonly componentsFollowed: number;
  readonly aircraftFollowed: number;
  readonly wearReadBeyondShareOfLimit: number;
  readonly componentsForSmallUnsafeRisk: number;
  readonly readingsComplete: number;
  readonly earlyRemovals: number;
  readonly fitChange: number;
  /** Largest share of fitted components that may be near the limit by two more looks where nobody followed any there. */
  readonly nearLimitSoon: number;
  readonly linesAgreeP: number;
  readonly borrowP: number;
  readonly upperExponent: number;
  readonly rejectedRows: number;
}

export interface IntervalGrid {
  /** Step in hours, or null where `list` is given. */
  readonly stepH: number | null;
  readonly list: readonly number[] | null;
  /** Largest change in one recommendation as a share of the present interval. */
  readonly largestChange: number;
}

/** Lives and sums of their readings, made elsewhere. */
export interface FleetTables {
  readonly lives: readonly string[];
  readonly sums: readonly string[];
}

export interface Fleet {
  readonly name: string;
  readonly exports: Readonly<Partial<Record<ExportKind, ExportSpec>>>;
  /** Patterns of the tables that stand in place of the wear export, where they do. */
  readonly tables?: FleetTables;
  readonly words: FleetWords;
  readonly parts: readonly Part[];
  readonly sealGaps: readonly SealGapTolerance[];
  readonly tasks: readonly Task[];
  readonly decisions: readonly Decision[];
  /** Months (YYYY-MM) in which an extension may be decided; null: not given, so the run counts as the first review. */
  readonly reviews: readonly string[] | null;
  readonly acceptable: Acceptable;
  readonly evidence: EvidenceThresholds;
  readonly alerts: { readonly method: "poisson"; readonly windowMonths: number };
  readonly intervalSteps: IntervalGrid;
  /** Components of a group from which on its models see only some of its aircraft. */
  readonly modelledComponents: number;
}
