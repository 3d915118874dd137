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
  /** Times, as log hours less the centre, and the weight of H there (survived: minus; entered: plus). */
  readonly hazardLog: Float64Array;
  readonly hazardWeight: Float64Array;
  /** Intervals: log of the two ends less the centre (minus infinity for 0) and how many lives. */
  readonly intervalLowLog: Float64Array;
  readonly intervalHighLog: Float64Array;
  readonly intervalWeight: Float64Array;
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
    const { lives, lateEntry } = livesUnder(table, count);
    const exact = counted(terms.exacts, count, 0);
    const middle = counted(terms.middles, count, 0);
    const { mean, spread, events } = logsOfEvents(exact, middle);
    const centre = fixedCentre ?? (events > 0 ? mean : longestOf(counted(terms.hazards, count, 0)));
    const hazards = counted(terms.hazards, count, centre);
    const exactEvents = total(exact.weight);
    return {
      centre,
      lives,
      exact: exactEvents,
      intervals: total(middle.weight),
      oneExactTime: exactEvents > 0 && exact.log.every((log) => log === exact.log[0]),
      lateEntry,
      logSpread: spread,
      sumLogExact: exact.log.reduce((sum, log, k) => sum + exact.weight[k]! * (log - centre), 0),
      hazardLog: hazards.log,
      hazardWeight: hazards.weight,
      intervalLowLog: counted(terms.lows, count, centre).log,
      intervalHighLog: counted(terms.highs, count, centre).log,
      intervalWeight: middle.weight,
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

/** Where rows have cumulative hazard (entry: plus; survived: minus), exact events, and the ends and middles of intervals. */
interface Terms {
  readonly hazards: Logs;
  readonly exacts: Logs;
  readonly lows: Logs;
  readonly highs: Logs;
  readonly middles: Logs;
}

function termsOf({ rows, entryHours, lowerHours, upperHours, count }: LifeTable): Terms {
  const hazards = roomFor(2 * rows);
  const [exacts, lows, highs, middles] = [roomFor(rows), roomFor(rows), roomFor(rows), roomFor(rows)];
  for (let i = 0; i < rows; i++) {
    const entry = entryHours[i]!;
    const low = lowerHours[i]!;
    const high = upperHours[i]!;
    checkRow(entry, low, high, count[i]!, i);
    // Hour 0 has no cumulative hazard; where entry is the last good look, the two cancel.
    if (entry !== low) {
      if (entry > 0) add(hazards, i, 1, entry);
      add(hazards, i, -1, low);
    }
    if (low === high) add(exacts, i, 1, low);
    else if (high < Number.POSITIVE_INFINITY) {
      add(lows, i, 1, low);
      add(highs, i, 1, high);
      add(middles, i, 1, low + (high - low) / 2);
    }
  }
  return { hazards, exacts, lows, highs, middles };
}

const roomFor = (most: number): Logs => ({
  size: 0,
  row: new Int32Array(most),
  sign: new Int8Array(most),
  log: new Float64Array(most),
});

function add(logs: Logs, row: number, sign: 1 | -1, hours: number): void {
  logs.row[logs.size] = row;
  logs.sign[logs.size] = sign;
  logs.log[logs.size++] = Math.log(hours);
}

/** Those whose rows count, less a centre, with their weights. */
function counted(logs: Logs, count: Float64Array, centre: number): Counted {
  const all = logs.size;
  const log = new Float64Array(all);
  const weight = new Float64Array(all);
  let found = 0;
  for (let k = 0; k < all; k++) {
    const lives = count[logs.row[k]!]!;
    if (lives === 0) continue;
    log[found] = logs.log[k]! - centre;
    weight[found++] = logs.sign[k]! * lives;
  }
  return found === all ? { log, weight } : { log: log.subarray(0, found), weight: weight.subarray(0, found) };
}

interface Counted {
  readonly log: Float64Array;
  readonly weight: Float64Array;
}

function livesUnder(
  { rows, entryHours }: LifeTable,
  count: Float64Array,
): { lives: number; lateEntry: boolean } {
  let lives = 0;
  let lateEntry = false;
  for (let i = 0; i < rows; i++) {
    lives += count[i]!;
    if (count[i]! > 0 && entryHours[i]! > 0) lateEntry = true;
  }
  return { lives, lateEntry };
}

/** Mean and spread of the events' log hours, intervals at their middle. */
function logsOfEvents(exact: Counted, middle: Counted): { mean: number; spread: number; events: number } {
  const sums = [exact, middle].map(({ log, weight }) => {
    let [events, sum] = [0, 0];
    for (let k = 0; k < log.length; k++) {
      events += weight[k]!;
      sum += weight[k]! * log[k]!;
    }
    return { events, sum };
  });
  const events = sums[0]!.events + sums[1]!.events;
  if (events === 0) return { mean: 0, spread: 0, events };
  const mean = (sums[0]!.sum + sums[1]!.sum) / events;
  let squares = 0;
  for (const { log, weight } of [exact, middle])
    for (let k = 0; k < log.length; k++) squares += weight[k]! * (log[k]! - mean) ** 2;
  return { mean, spread: Math.sqrt(squares / events), events };
}

/** Greatest of the log hours; 0 without any. */
const longestOf = ({ log }: Counted): number =>
  log.length === 0 ? 0 : log.reduce((most, each) => Math.max(most, each), Number.NEGATIVE_INFINITY);

/** The terms of a single life of a row. */
export function oneLife(table: LifeTable, row: number, centre: number): WeibullLikelihood {
  const [entry, low, high] = [table.entryHours[row]!, table.lowerHours[row]!, table.upperHours[row]!];
  const logOf = (hours: number) => Math.log(hours) - centre;
  const exact = low === high;
  const interval = !exact && high < Number.POSITIVE_INFINITY;
  const late = entry > 0;
  // Nothing was seen to be survived since it entered.
  const unseen = entry === low;
  return {
    centre,
    lives: 1,
    exact: exact ? 1 : 0,
    intervals: interval ? 1 : 0,
    oneExactTime: exact,
    lateEntry: late,
    logSpread: 0,
    sumLogExact: exact ? logOf(low) : 0,
    hazardLog: unseen ? NONE : late ? Float64Array.of(logOf(entry), logOf(low)) : Float64Array.of(logOf(low)),
    hazardWeight: unseen ? NONE : late ? ENTERED_AND_SURVIVED : SURVIVED,
    intervalLowLog: interval ? Float64Array.of(logOf(low)) : NONE,
    intervalHighLog: interval ? Float64Array.of(logOf(high)) : NONE,
    intervalWeight: interval ? ONE : NONE,
  };
}

const NONE = new Float64Array(0);
const ONE = Float64Array.of(1);
const SURVIVED = Float64Array.of(-1);
const ENTERED_AND_SURVIVED = Float64Array.of(1, -1);

const total = (weights: Float64Array): number => weights.reduce((sum, weight) => sum + weight, 0);

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
