/**
 * Where the nonparametric estimate of survival can put events, and what each life says about those places.
 *
 * Only innermost intervals can carry mass: from a left end (a last good look, or the end of a running life) to the next
 * right end (a look that found the event, or a late entry), where at least one life's event may lie. With late entry the
 * entries count as right ends (Frydman 1994, JRSS B 56, 71-74; Turnbull 1976, JRSS B 38, 290-295, without that).
 * Intervals are (low, high]; an exact event is the point low = high.
 */
import type { LifeTable } from "../records/life-table.ts";

export interface CurveSupport {
  readonly lowHours: Float64Array;
  readonly highHours: Float64Array;
  /** Lives (weighted) seen to survive each place: entered before it and still good after it. */
  readonly survived: Float64Array;
  /** Events: places `from` (included) to `to` (excluded) they may lie in, and how many. */
  readonly events: readonly { from: number; to: number; weight: number }[];
  /** Breaks: the place before which nothing joins the lives on both sides, and the hours from which the next are seen. */
  readonly breaks: readonly { before: number; fromHours: number }[];
  /** Earliest entry of all lives. */
  readonly firstEntryHours: number;
}

interface End {
  readonly hours: number;
  /** Order at equal hours: an exact event's left end, right ends, open left ends. */
  readonly order: 0 | 1 | 2;
}

/** @param table  at least one row with an event; zero counts are left out */
export function curveSupport(table: LifeTable): CurveSupport {
  const rows = Array.from({ length: table.rows }, (_, i) => i).filter((i) => saysSomething(table, i));
  const innermost = innermostIntervals(table, rows);
  const covered = new Float64Array(innermost.length + 1);
  for (const i of rows) {
    const { eventFrom, eventTo } = places(table, i, innermost);
    if (eventTo > eventFrom) {
      covered[eventFrom]! += 1;
      covered[eventTo]! -= 1;
    }
  }
  let cover = 0;
  const kept = innermost.filter((_, j) => {
    cover += covered[j]!;
    return cover > 0;
  });
  return lookUp(table, rows, kept);
}

/** A life whose only look is its entry says nothing, and must not add ends either. */
function saysSomething(table: LifeTable, row: number): boolean {
  const stillRunning = table.upperHours[row] === Number.POSITIVE_INFINITY;
  return table.count[row]! > 0 && !(stillRunning && table.lowerHours[row] === table.entryHours[row]);
}

interface Interval {
  readonly low: number;
  readonly high: number;
}

function innermostIntervals(table: LifeTable, rows: readonly number[]): Interval[] {
  const ends: End[] = [];
  for (const i of rows) {
    const lower = table.lowerHours[i]!;
    const upper = table.upperHours[i]!;
    if (table.entryHours[i]! > 0) ends.push({ hours: table.entryHours[i]!, order: 1 });
    ends.push({ hours: lower, order: lower === upper ? 0 : 2 });
    if (upper < Number.POSITIVE_INFINITY) ends.push({ hours: upper, order: 1 });
  }
  ends.sort((a, b) => a.hours - b.hours || a.order - b.order);
  const found: Interval[] = [];
  for (let k = 1; k < ends.length; k++) {
    const left = ends[k - 1]!;
    const right = ends[k]!;
    if (left.order !== 1 && right.order === 1) found.push({ low: left.hours, high: right.hours });
  }
  return found;
}

/** Which places a life was seen to survive, and in which its event lies. Places are in order and never straddle an end. */
function places(
  table: LifeTable,
  row: number,
  intervals: readonly Interval[],
): { riskFrom: number; riskTo: number; eventFrom: number; eventTo: number } {
  const entry = table.entryHours[row]!;
  const lower = table.lowerHours[row]!;
  const upper = table.upperHours[row]!;
  const exact = lower === upper;
  const upTo = (hours: number) => firstWhere(intervals, (each) => each.high > hours);
  const riskFrom = firstWhere(intervals, (each) => each.high > entry);
  const riskTo = exact ? firstWhere(intervals, (each) => each.high >= lower) : upTo(lower);
  const eventTo = upper === Number.POSITIVE_INFINITY ? riskTo : upTo(upper);
  return { riskFrom, riskTo, eventFrom: riskTo, eventTo };
}

function lookUp(table: LifeTable, rows: readonly number[], intervals: readonly Interval[]): CurveSupport {
  const places_ = intervals.length;
  const survived = new Float64Array(places_ + 1);
  const joined = new Float64Array(places_ + 1);
  const merged = new Map<number, { from: number; to: number; weight: number }>();
  let firstEntryHours = Number.POSITIVE_INFINITY;
  const entries: { place: number; hours: number }[] = [];
  for (const i of rows) {
    const weight = table.count[i]!;
    const { riskFrom, riskTo, eventFrom, eventTo } = places(table, i, intervals);
    firstEntryHours = Math.min(firstEntryHours, table.entryHours[i]!);
    entries.push({ place: riskFrom, hours: table.entryHours[i]! });
    if (riskTo > riskFrom) {
      survived[riskFrom]! += weight;
      survived[riskTo]! -= weight;
    }
    // A life that is under observation at two neighbouring places joins them.
    if (Math.max(riskTo, eventTo) - 1 > riskFrom) {
      joined[riskFrom + 1]! += weight;
      joined[Math.max(riskTo, eventTo)]! -= weight;
    }
    if (eventTo === eventFrom) continue;
    const key = eventFrom * (places_ + 1) + eventTo;
    const same = merged.get(key);
    if (same === undefined) merged.set(key, { from: eventFrom, to: eventTo, weight });
    else same.weight += weight;
  }
  const breaks: { before: number; fromHours: number }[] = [];
  for (let j = 1; j < places_; j++) {
    survived[j]! += survived[j - 1]!;
    joined[j]! += joined[j - 1]!;
    // Nobody on both sides, or nobody seen to survive the place before although others are seen later.
    if (joined[j] !== 0 && survived[j - 1] !== 0) continue;
    const next = entries.filter((entry) => entry.place === j).map((entry) => entry.hours);
    const first = next.reduce((least, hours) => Math.min(least, hours), intervals[j]!.low);
    breaks.push({ before: j, fromHours: Math.max(first, intervals[j - 1]!.high) });
  }
  return {
    lowHours: Float64Array.from(intervals, (each) => each.low),
    highHours: Float64Array.from(intervals, (each) => each.high),
    survived: survived.slice(0, places_),
    events: [...merged.values()],
    breaks,
    firstEntryHours,
  };
}

/** Index of the first interval for which `test` holds (they are in order, so it holds from there on). */
function firstWhere(intervals: readonly Interval[], test: (interval: Interval) => boolean): number {
  let low = 0;
  let high = intervals.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (test(intervals[middle]!)) high = middle;
    else low = middle + 1;
  }
  return low;
}
