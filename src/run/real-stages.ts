/** The stages of runs as they are outside tests. */
import { readFleet } from "../fleet/read-fleet.ts";
import { exportFolder } from "../ingest/read-files.ts";
import { runMonth } from "../pipeline.ts";
import { replayMonths } from "../replay-months.ts";
import { monthsPage } from "../report/pages/months.tsx";
import { renderMonth } from "../report/render-month.ts";
import { renderRecord } from "../report/render-record.ts";
import { blockThreads } from "./block-threads.ts";
import { drawThreads } from "./draw-threads.ts";
import { startMonthThreads } from "./month-threads.ts";
import { startPartThreads } from "./part-threads.ts";
import type { ReplayStages, Stages } from "./stages.ts";

export const stages: Stages & ReplayStages = {
  readFleet,
  exportFolder,
  readingThreads: (count) => blockThreads(count, new URL("../ingest/read-block-worker.js", import.meta.url)),
  drawingThreads: (count) => drawThreads(count, new URL("../run/draw-worker.js", import.meta.url)),
  partThreads: (count) => startPartThreads(count, new URL("../run/part-worker.js", import.meta.url)),
  monthThreads: (count, folder) =>
    startMonthThreads(count, new URL("../run/month-worker.js", import.meta.url), folder),
  runMonth,
  renderMonth,
  renderFrontPage: monthsPage,
  replayMonths,
  renderRecord,
};
