/** A month computed and rendered, wherever its inputs come from: the exports today, or those kept for `verify`. */
import type { Fleet } from "../fleet/fleet.ts";
import { IN_THIS_THREAD, type ReadingMeans } from "../ingest/read-texts.ts";
import { REJECTED_CSV_HEADING, rejectedCsvLine } from "../ingest/rejected-csv.ts";
import type { ExportSource } from "../ingest/source.ts";
import type { Month } from "../interval/month-result.ts";
import type { PartThread } from "../interval/part-pieces.ts";
import type { Draw } from "../report/charts/render.ts";
import type { ReportFile } from "../report/report-file.ts";
import type { Day } from "../units.ts";
import { changesSince } from "./changes.ts";
import type { PreviousRun } from "./history.ts";
import type { Stages } from "./stages.ts";

export const REJECTED_FILE = "rejected.csv";

export interface ComputeOptions {
  readonly fleet: Fleet;
  readonly fleetText: string;
  readonly source: ExportSource;
  readonly asOf: Day | null;
  readonly program: string;
  /** Takes rejected.csv as it grows. */
  readonly rejected: (text: string) => void;
  /** The run to compare with, once the month is known; null: none. */
  readonly previous: (month: Month) => Promise<PreviousRun | null>;
  /** Hears of each stage as it begins. */
  readonly onStage?: (stage: string) => void;
  /** What there is to read with. __Default value:__ this thread, and nothing kept */
  readonly means?: ReadingMeans;
  /** Other threads that answer groups. __Default value:__ none */
  readonly partThreads?: readonly PartThread[];
  /** Who draws the charts. __Default value:__ this thread */
  readonly draw?: Draw | undefined;
}

export interface ComputedMonth {
  readonly month: Month;
  readonly previous: PreviousRun | null;
  /** All but rejected.csv. */
  readonly files: readonly ReportFile[];
}

/** Every file of a month but rejected.csv, which went to `rejected` while the exports were read. */
export async function computeMonth(stages: Stages, options: ComputeOptions): Promise<ComputedMonth> {
  options.rejected(REJECTED_CSV_HEADING);
  const computed = await stages.runMonth({
    fleet: options.fleet,
    fleetText: options.fleetText,
    source: options.source,
    asOf: options.asOf,
    program: options.program,
    onProblem: (problem) => options.rejected(rejectedCsvLine(problem)),
    ...(options.onStage && { onStage: options.onStage }),
    means: options.means ?? IN_THIS_THREAD,
    partThreads: options.partThreads ?? [],
  });
  options.onStage?.("pages");
  const previous = await options.previous(computed);
  const month = {
    ...computed,
    changes: previous === null ? null : changesSince(previous, computed, options.fleetText),
  };
  return { month, previous, files: await stages.renderMonth(month, options.draw) };
}
