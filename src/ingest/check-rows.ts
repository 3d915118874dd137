/** Checks across rows: what no single row shows. Every finding here is a remark; the rows are used as recorded. */
import type { Fleet } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import type { ReadExports } from "../records/exports.ts";

export function checkRows(
  _exports: ReadExports,
  _fleet: Fleet,
  _onProblem: (problem: RowProblem) => void,
): void {}
