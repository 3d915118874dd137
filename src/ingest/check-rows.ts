/**
 * Checks across rows: what no single row shows. Every finding here is a remark, and says what becomes of the row: used as
 * recorded, or left out of the lives, where the rows around it show that it can't be right.
 */
import type { Fleet } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import type { ReadExports } from "../records/exports.ts";
import { checkHours } from "./check-hours.ts";
import { checkPlaces } from "./check-places.ts";
import { checkWear } from "./check-wear.ts";
import { rowChecks } from "./remarks.ts";

export function checkRows(
  exports: ReadExports,
  fleet: Fleet,
  onProblem: (problem: RowProblem) => void,
): void {
  const checks = rowChecks(exports, fleet, onProblem);
  const doubtful = new Uint8Array(exports.wear?.rows ?? 0);
  checkHours(checks, doubtful);
  checkWear(checks, doubtful);
  checkPlaces(checks);
}
