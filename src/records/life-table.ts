/**
 * The life table: all that the life models ever see. One row is one (or `count` equal) component lives.
 *
 * Hours are flight hours. An event happened in (lower, upper]; lower = upper is an exact event; an infinite upper is a
 * life still running at `lower`; lower 0 with a finite upper is an event before the first look (left-censored).
 * A life came under observation at `entry` (0: from new), and counts only given that it got that far.
 */
export interface LifeTable {
  readonly rows: number;
  readonly entryHours: Float64Array;
  readonly lowerHours: Float64Array;
  readonly upperHours: Float64Array;
  readonly count: Float64Array;
  /** Cluster of each row for dependence (an aircraft's number); rows with -1 stand alone. */
  readonly cluster: Int32Array;
}

export type LifeKind = "exact" | "interval" | "left" | "running";

/** One life as a person writes it. */
export interface LifeRow {
  readonly entryHours?: number;
  readonly lowerHours: number;
  /** Infinity: still running. */
  readonly upperHours: number;
  readonly count?: number;
  readonly cluster?: number;
}

/** Columns from rows. */
export function lifeTable(rows: readonly LifeRow[]): LifeTable {
  return {
    rows: rows.length,
    entryHours: Float64Array.from(rows, (row) => row.entryHours ?? 0),
    lowerHours: Float64Array.from(rows, (row) => row.lowerHours),
    upperHours: Float64Array.from(rows, (row) => row.upperHours),
    count: Float64Array.from(rows, (row) => row.count ?? 1),
    cluster: Int32Array.from(rows, (row) => row.cluster ?? -1),
  };
}

/** What kind of observation a row is. */
export function lifeKind(table: LifeTable, row: number): LifeKind {
  const lower = table.lowerHours[row]!;
  const upper = table.upperHours[row]!;
  if (upper === Number.POSITIVE_INFINITY) return "running";
  if (lower === upper) return "exact";
  return lower === 0 ? "left" : "interval";
}
