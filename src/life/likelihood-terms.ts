/**
 * What of a life table the Weibull likelihood sees: log hours and what stands there. The logarithms are taken once; other
 * counts of the same rows, which a bootstrap asks for hundreds of times, are then only sums.
 */
import type { LifeTable } from "../records/life-table.ts";

export interface WeibullLikelihood {
  /** Log hours at which alpha is the log cumulative hazard. */
  readonly centre: number;
  /** Weighted numbers of lives, and of events of each kind. */
  readonly lives: number;
  readonly exact: number;
  readonly intervals: number;
  /** Exact events, and all of them at one time. */
  readonly oneExactTime: boolean;
  /** True where any life came under observation after hour 0: then concavity is not guaranteed. */
  readonly lateEntry: boolean;
  /** Spread (standard deviation) of the log hours of the events; 0 where all are at one place. */
  readonly logSpread: number;
  /** Sum of the exact events' log hours, less the centre. */
  readonly sumLogExact: number;
  /**
   * Times, as log hours less the centre, and the weight of H there (survived: minus; entered: plus). What was survived before an
   * event in an interval is kept with the interval.
   */
  readonly hazardLog: Float64Array;
  readonly hazardWeight: Float64Array;
  /** Intervals: log of the two ends less the centre (minus infinity for 0), how many lives, how many survived the low end. */
  readonly intervalLowLog: Float64Array;
  readonly intervalHighLog: Float64Array;
  readonly intervalWeight: Float64Array;
  readonly intervalSurvived: Float64Array;
}

/**
 * Prepares a table: checks it and centres the log hours.
 *
 * @throws RangeError where a row can't be an observation of a life (a bug of the caller: tables are checked on reading)
 */
export const weibullLikelihood = (table: LifeTable, centre: number | null = null): WeibullLikelihood =>
  likelihoodUnder(table)(table.count, centre);

/**
 * The likelihood of a table's rows under any counts of them. Rows that count nothing have no terms.
 *
 * @returns centre  log hours at which alpha is the log cumulative hazard; null: the events' mean
 */
export function likelihoodUnder(
  table: LifeTable,
): (count: Float64Array, centre: number | null) => WeibullLikelihood {
  const rows = rowTerms(table);
  return (count, fixedCentre) => {
    const { centre, ...events } = eventsUnder(rows, count, fixedCentre);
    return {
      centre,
      lives: total(count),
      lateEntry: rows.late.some((row) => count[row]! > 0),
      ...events,
      ...termsUnder(rows, count, centre),
    };
  };
}

/** Rows that have terms of each kind, with the logs of their hours: what is the same under all counts. */
interface RowTerms {
  /** Rows with cumulative hazard, once for each place; sign: entered plus, survived minus. */
  readonly hazard: { readonly row: Int32Array; readonly log: Float64Array; readonly sign: Float64Array };
  readonly exact: { readonly row: Int32Array; readonly log: Float64Array };
  /** middle: log of the hours halfway; seen: 1 where the low end was survived, 0 where nothing was seen before the event. */
  readonly interval: {
    readonly row: Int32Array;
    readonly low: Float64Array;
    readonly high: Float64Array;
    readonly middle: Float64Array;
    readonly seen: Float64Array;
  };
  /** Rows that entered after hour 0. */
  readonly late: Int32Array;
}

function rowTerms({ rows, entryHours, lowerHours, upperHours, count }: LifeTable): RowTerms {
  // Small arrays are dear to make and cheap to cut from a large one.
  const [ints, floats] = [new Int32Array(5 * rows), new Float64Array(9 * rows)];
  const int = (from: number, size: number) => ints.subarray(from * rows, from * rows + size);
  const float = (from: number, size: number) => floats.subarray(from * rows, from * rows + size);
  const hazard = { row: int(0, 2 * rows), log: float(0, 2 * rows), sign: float(2, 2 * rows) };
  const exact = { row: int(2, rows), log: float(4, rows) };
  const interval = {
    row: int(3, rows),
    low: float(5, rows),
    high: float(6, rows),
    middle: float(7, rows),
    seen: float(8, rows),
  };
  const late = int(4, rows);
  let [hazards, exacts, intervals, entries] = [0, 0, 0, 0];
  for (let i = 0; i < rows; i++) {
    const entry = entryHours[i]!;
    const low = lowerHours[i]!;
    const high = upperHours[i]!;
    checkRow(entry, low, high, count[i]!, i);
    // Hour 0 has no cumulative hazard; where entry is the last good look, the two cancel.
    const seen = entry !== low;
    if (entry > 0) late[entries++] = i;
    if (entry > 0 && seen) {
      hazard.row[hazards] = i;
      hazard.log[hazards] = Math.log(entry);
      hazard.sign[hazards++] = 1;
    }
    const lowLog = Math.log(low);
    if (low < high && high < Number.POSITIVE_INFINITY) {
      interval.row[intervals] = i;
      interval.low[intervals] = lowLog;
      interval.high[intervals] = Math.log(high);
      interval.middle[intervals] = Math.log(low + (high - low) / 2);
      interval.seen[intervals++] = seen ? 1 : 0;
      continue;
    }
    if (seen) {
      hazard.row[hazards] = i;
      hazard.log[hazards] = lowLog;
      hazard.sign[hazards++] = -1;
    }
    if (low === high) {
      exact.row[exacts] = i;
      exact.log[exacts++] = lowLog;
    }
  }
  return {
    hazard: { ...hazard, row: hazard.row.subarray(0, hazards) },
    exact: { ...exact, row: exact.row.subarray(0, exacts) },
    interval: { ...interval, row: interval.row.subarray(0, intervals) },
    late: late.subarray(0, entries),
  };
}

/** Sums over the events that count, and their centre: the mean of their logs unless it is given. */
function eventsUnder({ exact, interval, hazard }: RowTerms, count: Float64Array, fixedCentre: number | null) {
  let [exacts, intervals, sum] = [0, 0, 0];
  let [first, oneExactTime] = [Number.NaN, true];
  for (let k = 0; k < exact.row.length; k++) {
    const lives = count[exact.row[k]!]!;
    if (lives === 0) continue;
    if (exacts === 0) first = exact.log[k]!;
    if (exact.log[k] !== first) oneExactTime = false;
    exacts += lives;
    sum += lives * exact.log[k]!;
  }
  for (let k = 0; k < interval.row.length; k++) {
    const lives = count[interval.row[k]!]!;
    intervals += lives;
    sum += lives * interval.middle[k]!;
  }
  const events = exacts + intervals;
  const mean = sum / events;
  const centre = fixedCentre ?? (events > 0 ? mean : longestLog(hazard, count));
  let [sumLogExact, squares] = [0, 0];
  for (let k = 0; k < exact.row.length; k++) {
    const lives = count[exact.row[k]!]!;
    sumLogExact += lives * (exact.log[k]! - centre);
    squares += lives * (exact.log[k]! - mean) ** 2;
  }
  for (let k = 0; k < interval.row.length; k++)
    squares += count[interval.row[k]!]! * (interval.middle[k]! - mean) ** 2;
  return {
    centre,
    exact: exacts,
    intervals,
    oneExactTime: exacts > 0 && oneExactTime,
    logSpread: events > 0 ? Math.sqrt(squares / events) : 0,
    sumLogExact,
  };
}

/** Greatest log hours with cumulative hazard; 0 where there are none. */
function longestLog({ row, log }: RowTerms["hazard"], count: Float64Array): number {
  let longest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < row.length; k++) if (count[row[k]!]! > 0 && log[k]! > longest) longest = log[k]!;
  return Number.isFinite(longest) ? longest : 0;
}

/** The terms of the rows that count, logs less the centre. */
function termsUnder({ hazard, interval }: RowTerms, count: Float64Array, centre: number) {
  const [most, mostIntervals] = [hazard.row.length, interval.row.length];
  const room = new Float64Array(2 * most + 4 * mostIntervals);
  const [hazardLog, hazardWeight] = [room.subarray(0, most), room.subarray(most, 2 * most)];
  const part = (k: number) => room.subarray(2 * most + k * mostIntervals, 2 * most + (k + 1) * mostIntervals);
  const [low, high, weight, survived] = [part(0), part(1), part(2), part(3)];
  let [hazards, intervals] = [0, 0];
  for (let k = 0; k < most; k++) {
    const lives = count[hazard.row[k]!]!;
    if (lives === 0) continue;
    hazardLog[hazards] = hazard.log[k]! - centre;
    hazardWeight[hazards++] = hazard.sign[k]! * lives;
  }
  for (let k = 0; k < mostIntervals; k++) {
    const lives = count[interval.row[k]!]!;
    if (lives === 0) continue;
    low[intervals] = interval.low[k]! - centre;
    high[intervals] = interval.high[k]! - centre;
    survived[intervals] = interval.seen[k]! * lives;
    weight[intervals++] = lives;
  }
  return {
    hazardLog: hazardLog.subarray(0, hazards),
    hazardWeight: hazardWeight.subarray(0, hazards),
    intervalLowLog: low.subarray(0, intervals),
    intervalHighLog: high.subarray(0, intervals),
    intervalWeight: weight.subarray(0, intervals),
    intervalSurvived: survived.subarray(0, intervals),
  };
}

function total(weights: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < weights.length; k++) sum += weights[k]!;
  return sum;
}

function checkRow(entry: number, lower: number, upper: number, count: number, row: number): void {
  const sound =
    entry >= 0 &&
    lower >= entry &&
    upper >= lower &&
    upper > 0 &&
    lower < Infinity &&
    count >= 0 &&
    count < Infinity;
  if (!sound) {
    throw new RangeError(
      `life table row ${row}: expected 0 <= entry <= lower <= upper and a count, got ${entry}, ${lower}, ${upper}, ${count}`,
    );
  }
}
