/** What the `report` command and the process that runs the month tell each other. */
import type { ProblemCode } from "../problems.ts";
import type { RunOutcome, Told } from "../run/monthly-run.ts";
import type { Day } from "../units.ts";

export interface ReportJob {
  readonly fleetFile: string;
  readonly outFolder: string;
  readonly exportsFolder: string | null;
  readonly asOf: Day | null;
  readonly keepInputs: boolean;
  readonly keepMonths: number | null;
  readonly run: string;
}

export type ReportMessage =
  | { readonly kind: "say"; readonly level: Told; readonly message: string }
  | { readonly kind: "progress"; readonly doneBytes: number; readonly totalBytes: number }
  | { readonly kind: "done"; readonly outcome: RunOutcome }
  | {
      readonly kind: "failed";
      /** Code and exit code of an error a person can mend; null: a bug. */
      readonly known: { readonly code: ProblemCode; readonly exitCode: number } | null;
      readonly message: string;
      readonly stack: string | null;
    };
