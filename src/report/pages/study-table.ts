/** The simulation study as method.html shows it: extensions recommended to fleets whose true risks are known. */
export interface StudyRow {
  /** What sort of fleet, in words. */
  readonly kind: string;
  readonly fleets: number;
  readonly extensions: number;
  /** Extensions to an interval whose true risk is over the acceptable one. */
  readonly unsafe: number;
  /** Upper bound of their share of the fleets, one-sided at 95 %: 0 to 1. */
  readonly unsafeUpper: number;
}

export interface StudyTable {
  /** Commit of the program that was studied. */
  readonly commit: string;
  /** YYYY-MM-DD */
  readonly date: string;
  /** "1 to 1000" */
  readonly seeds: string;
  readonly rows: readonly StudyRow[];
}

/** null: this version has not been studied yet, and method.html says nothing of it. */
export const STUDY: StudyTable | null = null;
