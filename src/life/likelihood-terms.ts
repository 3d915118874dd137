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
  const terms = termsOf(table);
  return (count, fixedCentre) => {
    const exact = counted(terms.exacts, count);
    const middle = counted(terms.middles, count);
    const hazards = counted(terms.hazards, count);
    const lows = counted(terms.lows, count);
    const highs = counted(terms.highs, count);
    const { mean, spread } = logsOfEvents(exact, middle);
    const centre = fixedCentre ?? mean ?? longestOf(hazards.log);
    return {
      centre,
      lives: total(count),
      exact: total(exact.weight),
      intervals: total(middle.weight),
      oneExactTime: allEqual(exact.log),
      lateEntry: terms.lateRows.some((row) => count[row]! > 0),
      logSpread: spread,
      sumLogExact: sumLess(exact, centre),
      hazardLog: lessCentre(hazards.log, centre),
      hazardWeight: hazards.weight,
      intervalLowLog: lessCentre(lows.log, centre),
      intervalHighLog: lessCentre(highs.log, centre),
      intervalWeight: middle.weight,
      intervalSurvived: lows.weight,
    };
  };
}

/** Logs of hours, each with the row it is of and its sign there. */
interface Logs {
  size: number;
  readonly row: Int32Array;
  readonly sign: Int8Array;
  readonly log: Float64Array;
}

/**
 * Where rows have cumulative hazard (entry: plus; survived: minus), exact events, and the ends and middles of intervals; the sign
 * of a low end is 0 where nothing was survived before it.
 */
interface Terms {
  readonly hazards: Logs;
  readonly exacts: Logs;
  readonly lows: Logs;
  readonly highs: Logs;
  readonly middles: Logs;
  readonly lateRows: readonly number[];
}

function termsOf({ rows, entryHours, lowerHours, upperHours, count }: LifeTable): Terms {
  const hazards = roomFor(2 * rows);
  const [exacts, lows, highs, middles] = [roomFor(rows), roomFor(rows), roomFor(rows), roomFor(rows)];
  const lateRows: number[] = [];
  for (let i = 0; i < rows; i++) {
    const entry = entryHours[i]!;
    const low = lowerHours[i]!;
    const high = upperHours[i]!;
    checkRow(entry, low, high, count[i]!, i);
    // Hour 0 has no cumulative hazard; where entry is the last good look, the two cancel.
    const seen = entry !== low;
    if (entry > 0) {
      lateRows.push(i);
      if (seen) add(hazards, i, 1, Math.log(entry));
    }
    const lowLog = Math.log(low);
    if (low < high && high < Number.POSITIVE_INFINITY) {
      add(lows, i, seen ? 1 : 0, lowLog);
      add(highs, i, 1, Math.log(high));
      add(middles, i, 1, Math.log(low + (high - low) / 2));
      continue;
    }
    if (seen) add(hazards, i, -1, lowLog);
    if (low === high) add(exacts, i, 1, lowLog);
  }
  return { hazards, exacts, lows, highs, middles, lateRows };
}

const roomFor = (most: number): Logs => ({
  size: 0,
  row: new Int32Array(most),
  sign: new Int8Array(most),
  log: new Float64Array(most),
});

function add(logs: Logs, row: number, sign: 1 | 0 | -1, log: number): void {
  logs.row[logs.size] = row;
  logs.sign[logs.size] = sign;
  logs.log[logs.size++] = log;
}

interface Counted {
  readonly log: Float64Array;
  readonly weight: Float64Array;
}

/** Those whose rows count, with their weights. */
function counted(logs: Logs, count: Float64Array): Counted {
  const all = logs.size;
  const log = new Float64Array(all);
  const weight = new Float64Array(all);
  let found = 0;
  for (let k = 0; k < all; k++) {
    const lives = count[logs.row[k]!]!;
    if (lives === 0) continue;
    log[found] = logs.log[k]!;
    weight[found++] = logs.sign[k]! * lives;
  }
  return found === all ? { log, weight } : { log: log.subarray(0, found), weight: weight.subarray(0, found) };
}

/** In place. */
function lessCentre(log: Float64Array, centre: number): Float64Array {
  for (let k = 0; k < log.length; k++) log[k]! -= centre;
  return log;
}

/** Mean (null without any) and spread of the events' log hours, intervals at their middle. */
function logsOfEvents(exact: Counted, middle: Counted): { mean: number | null; spread: number } {
  const events = total(exact.weight) + total(middle.weight);
  if (events === 0) return { mean: null, spread: 0 };
  const mean = (sumLess(exact, 0) + sumLess(middle, 0)) / events;
  const spread = Math.sqrt((squaresAbout(exact, mean) + squaresAbout(middle, mean)) / events);
  return { mean, spread };
}

function total(weights: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < weights.length; k++) sum += weights[k]!;
  return sum;
}

function sumLess({ log, weight }: Counted, centre: number): number {
  let sum = 0;
  for (let k = 0; k < log.length; k++) sum += weight[k]! * (log[k]! - centre);
  return sum;
}

function squaresAbout({ log, weight }: Counted, mean: number): number {
  let sum = 0;
  for (let k = 0; k < log.length; k++) sum += weight[k]! * (log[k]! - mean) ** 2;
  return sum;
}

/** Greatest of the log hours; 0 without any. */
function longestOf(log: Float64Array): number {
  return log.length === 0 ? 0 : log.reduce((most, each) => Math.max(most, each), Number.NEGATIVE_INFINITY);
}

/** At least one, and all the same. */
const allEqual = (logs: Float64Array): boolean => logs.length > 0 && logs.every((log) => log === logs[0]);

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
