/** What the `report` and `replay` commands and the process that does their work tell each other. */
import type { RunOutcome } from "../run/monthly-run.ts";
import type { RecordOutcome } from "../run/record-run.ts";
import type { Counting, Told } from "../run/run-steps.ts";
import type { ToldError } from "../run/told-error.ts";
import type { Day } from "../units.ts";

export interface ReportJob {
  readonly command: "report";
  readonly fleetFile: string;
  readonly outFolder: string;
  readonly exportsFolder: string | null;
  readonly asOf: Day | null;
  readonly keepInputs: boolean;
  readonly keepMonths: number | null;
  readonly cache: boolean;
  readonly threads: number;
  readonly run: string;
}

export interface ReplayJob {
  readonly command: "replay";
  readonly fleetFile: string;
  readonly outFolder: string;
  readonly exportsFolder: string | null;
  readonly asOf: Day | null;
  /** How many month-ends. */
  readonly months: number;
  readonly threads: number;
  readonly run: string;
}

/** What each job comes to. */
export type OutcomeOf<Job extends ReportJob | ReplayJob> = Job extends ReportJob ? RunOutcome : RecordOutcome;

export type ReportMessage =
  | { readonly kind: "say"; readonly level: Told; readonly message: string }
  | { readonly kind: "progress"; readonly done: number; readonly total: number; readonly counting: Counting }
  | { readonly kind: "done"; readonly outcome: RunOutcome | RecordOutcome }
  | ({ readonly kind: "failed" } & ToldError);
