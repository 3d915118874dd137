/**
 * The faults planted in the demonstration's exports, so that everyone can see what the program does with each.
 *
 * They are planted by code after the exports are written: the same exports get the same faults in the same lines.
 */
import type { ExportText } from "./dialect.ts";
import { plantCrossRowFaults } from "./planted-cross-row.ts";
import type { PlantedFault, PlantedSheet } from "./planted-lines.ts";
import { plantFileFaults, plantRowFaults } from "./planted-rows.ts";

/** The exports with every fault planted, as sheets, and the list of faults with file and line. */
export function plantFaults(exports: readonly ExportText[]): {
  readonly sheets: readonly PlantedSheet[];
  readonly faults: readonly PlantedFault[];
} {
  const sheets = exports.map((text) => ({
    path: text.path,
    delimiter: text.dialect.delimiter,
    lines: text.lines.map((line) => ({ text: line })),
    byteOrderMark: false,
  }));
  const plantings = [...plantCrossRowFaults(sheets), ...plantRowFaults(sheets), ...plantFileFaults(sheets)];
  const faults = plantings.map(({ sheet, line, rows, planted, expected, code }, index) => ({
    number: index + 1,
    file: sheet.path,
    line: line === null ? 1 : sheet.lines.indexOf(line) + 1,
    rows,
    planted,
    expected,
    code,
  }));
  return { sheets, faults };
}
