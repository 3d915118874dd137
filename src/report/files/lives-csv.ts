/**
 * lives.csv: every piece of every life that the models saw, with file and line of each row that made it, so that any
 * number of a report can be followed back to its rows.
 */
import type { Month } from "../../interval/month-result.ts";
import type { Life, RowRef } from "../../records/life.ts";
import { lastReading, readingCount } from "../../records/life-readings.ts";
import { isoDate } from "../../units.ts";
import { type CsvColumn, csvPieces } from "./csv-table.ts";

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);

/** "exports/wear-2026-03.csv:12 19 31; exports/removals.csv:4": the lines of one file stand behind its name. */
export function lineage(rows: readonly RowRef[], fileName: (file: number) => string): string {
  // A life has rows in a few files, and one map for each life would cost more than looking through them.
  const files: number[] = [];
  const lines: number[][] = [];
  for (const { file, line } of rows) {
    const at = files.lastIndexOf(file);
    if (at >= 0) lines[at]!.push(line);
    else lines[files.push(file) - 1] = [line];
  }
  return files.map((file, at) => `${fileName(file)}:${lines[at]!.join(" ")}`).join("; ");
}

const columnsOf = (month: Month): readonly CsvColumn<Life>[] => [
  { head: "part", value: (life) => life.group.part },
  { head: "serial", value: (life) => month.serials[life.component] ?? null },
  { head: "life", value: (life) => life.life },
  { head: "piece", value: (life) => life.piece },
  { head: "environment", value: (life) => life.group.environment },
  { head: "standard", value: (life) => life.group.standard },
  { head: "environment_from", value: (life) => life.environmentFrom },
  { head: "entry_h", value: (life) => life.entryHours },
  { head: "lower_h", value: (life) => life.lowerHours },
  { head: "upper_h", value: (life) => finite(life.upperHours) },
  { head: "end", value: (life) => life.end },
  { head: "late_entry", value: (life) => (life.lateEntry ? "yes" : "no") },
  { head: "functional_failure_h", value: (life) => life.functionalFailureHours },
  { head: "aircraft", value: (life) => life.aircraft },
  { head: "position", value: (life) => life.position },
  { head: "first_day", value: (life) => isoDate(life.firstDay) },
  { head: "last_day", value: (life) => isoDate(life.lastDay) },
  { head: "event_day", value: (life) => (life.eventDay === null ? null : isoDate(life.eventDay)) },
  { head: "removed_day", value: (life) => (life.removedDay === null ? null : isoDate(life.removedDay)) },
  { head: "removed_for", value: (life) => life.removal?.mode ?? null },
  { head: "no_fault_found", value: (life) => (life.removal?.noFaultFound ? "yes" : null) },
  { head: "looks", value: (life) => life.lookHours.length },
  { head: "readings", value: (life) => readingCount(life) },
  { head: "last_reading_mm", value: (life) => lastReading(life)?.wearMm ?? null },
  {
    head: "rows",
    value: (life) => lineage(life.rows, (file) => month.inputs[file]?.file ?? `file ${file}`),
  },
];

function* livesOf(month: Month): Iterable<Life> {
  for (const group of month.groups) yield* group.lives;
}

/** Every life with the rows that made it, some lines at a time. */
export const livesCsv = (month: Month): Iterable<string> => csvPieces(livesOf(month), columnsOf(month));
