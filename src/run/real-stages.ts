/** The stages of a monthly run as they are outside tests. */
import { readFleet } from "../fleet/read-fleet.ts";
import { exportFolder } from "../ingest/read-files.ts";
import { runMonth } from "../pipeline.ts";
import { monthsPage } from "../report/pages/months.tsx";
import { renderMonth } from "../report/render-month.ts";
import type { Stages } from "./stages.ts";

export const stages: Stages = {
  readFleet,
  exportFolder,
  runMonth,
  renderMonth,
  renderFrontPage: monthsPage,
};
