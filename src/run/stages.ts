/** What a monthly run is made of: the real stages here, others in tests. */
import type { Fleet } from "../fleet/fleet.ts";
import type { ExportSource } from "../ingest/source.ts";
import type { Month } from "../interval/month-result.ts";
import type { RowProblem } from "../problems.ts";
import type { Day } from "../units.ts";
import type { RenderFrontPage } from "./front-page.ts";

export interface MonthOptions {
  readonly fleet: Fleet;
  readonly fleetText: string;
  readonly source: ExportSource;
  /** null: the last month-end on or before the latest date in the exports. */
  readonly asOf: Day | null;
  readonly program: string;
  readonly onProblem: (problem: RowProblem) => void;
}

export interface ReportFile {
  readonly path: string;
  readonly text: string;
}

export interface Stages {
  readFleet(text: string, fileName: string): Fleet;
  exportFolder(root: string): ExportSource;
  runMonth(options: MonthOptions): Promise<Month>;
  renderMonth(month: Month): Promise<readonly ReportFile[]>;
  readonly renderFrontPage: RenderFrontPage;
}
