/** What runs are made of: the real stages in real-stages.ts, others in tests. */
import type { Fleet } from "../fleet/fleet.ts";
import type { BlockPool } from "../ingest/block-pool.ts";
import type { ExportSource } from "../ingest/source.ts";
import type { Month } from "../interval/month-result.ts";
import type { MonthOptions } from "../pipeline.ts";
import type { PastRecord } from "../replay/record-result.ts";
import type { ReplayOptions } from "../replay-months.ts";
import type { Draw } from "../report/charts/render.ts";
import type { ReportFile } from "../report/report-file.ts";
import type { DrawThreads } from "./draw-threads.ts";
import type { RenderFrontPage } from "./front-page.ts";
import type { MonthThreads } from "./month-threads.ts";
import type { PartThreads } from "./part-threads.ts";

export interface Stages {
  readFleet(text: string, fileName: string): Fleet;
  exportFolder(root: string): ExportSource;
  /** Threads that read beside this one; whoever starts them closes them. */
  readingThreads(count: number): BlockPool;
  /** Threads that answer groups beside this one, none for 0; whoever starts them closes them. */
  partThreads(count: number): PartThreads;
  /** Threads that draw charts beside this one; whoever starts them closes them. */
  drawingThreads(count: number): DrawThreads;
  runMonth(options: MonthOptions): Promise<Month>;
  /** `draw`: __Default value:__ this thread draws */
  renderMonth(month: Month, draw?: Draw): Promise<readonly ReportFile[]>;
  readonly renderFrontPage: RenderFrontPage;
}

/** What a replay is made of. */
export interface ReplayStages extends Pick<Stages, "readFleet" | "exportFolder" | "renderFrontPage"> {
  /** Threads that replay months beside this one, none for 0; whoever starts them closes them. */
  monthThreads(count: number, exportsFolder: string): MonthThreads;
  replayMonths(options: ReplayOptions): Promise<PastRecord>;
  renderRecord(record: PastRecord): Promise<readonly ReportFile[]>;
}
