/**
 * watchlist.csv: every fitted component with a reading, most likely to be over the limit at its next look first. Hours left
 * are counted from its last look: take off the hours flown since to have them from now.
 */
import type { Month, WatchLine } from "../../interval/month-result.ts";
import { isoDate } from "../../units.ts";
import { type CsvColumn, csvTextOf } from "./csv-table.ts";

const COLUMNS: readonly CsvColumn<WatchLine>[] = [
  { head: "part", value: (row) => row.group.part },
  { head: "environment", value: (row) => row.group.environment },
  { head: "standard", value: (row) => row.group.standard },
  { head: "serial", value: (row) => row.serial },
  { head: "where", value: (row) => row.where },
  { head: "last_reading_mm", value: (row) => row.lastReadingMm },
  { head: "last_reading_on", value: (row) => isoDate(row.lastReadingDay) },
  { head: "hours_at_last_reading", value: (row) => row.hoursAtLastReading },
  { head: "hours_at_last_look", value: (row) => row.hoursAtLastLook },
  { head: "last_look_on", value: (row) => isoDate(row.lastLookDay) },
  { head: "hours_flown_since_last_look", value: (row) => row.hoursFlownSince },
  { head: "chance_over_by_next_look", value: (row) => row.chanceByNextLook },
  { head: "hours_left_from_last_look_median", value: (row) => row.hoursLeft?.estimate ?? null },
  { head: "hours_left_from_last_look_5_percent", value: (row) => row.hoursLeft?.lower ?? null },
  { head: "hours_left_from_last_look_95_percent", value: (row) => row.hoursLeft?.upper ?? null },
];

export const watchlistCsv = (month: Month): string => csvTextOf(month.watchList, COLUMNS);
