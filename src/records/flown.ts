/**
 * Where hours were flown: by aircraft and month from the `flying` export.
 */
import { type Day, isoMonth, monthNumber } from "../units.ts";
import type { FlyingRows, ReadExports } from "./exports.ts";
import { rowsByNumber } from "./rows-by-number.ts";
import { UNASSIGNED } from "./words.ts";

export interface FlownIndex {
  /** True where there is a flying export at all. */
  readonly known: boolean;
  /**
   * The environment in which an aircraft flew most of its hours between two days (months touched count whole), or null
   * where nothing is recorded.
   */
  mainEnvironment(aircraft: string, fromDay: Day, toDay: Day): string | null;
}

/** Hours by aircraft, month and environment, in that order; those of one month in the order in which they are first met. */
interface FlownHours {
  readonly aircraft: ReadonlyMap<string, number>;
  /** Entries of aircraft a are start[a] … start[a + 1] − 1. */
  readonly start: Int32Array;
  readonly month: Int32Array;
  readonly environment: Int32Array;
  readonly hours: Float64Array;
  readonly environments: readonly string[];
}

/** Index of the flying export. */
export function indexFlown(exports: ReadExports): FlownIndex {
  const { flying } = exports;
  if (flying === null) return { known: false, mainEnvironment: () => null };
  const flown = hoursFlown(flying);
  const { start, month, environment, hours, environments } = flown;
  const total = new Float64Array(environments.length);
  return {
    known: flying.rows > 0 && flying.environment.words.length > 0,
    mainEnvironment(aircraft, fromDay, toDay) {
      const number = flown.aircraft.get(aircraft);
      if (number === undefined) return null;
      const end = start[number + 1]!;
      const first = firstFrom(month, start[number]!, end, monthNumber(fromDay));
      const last = firstFrom(month, first, end, monthNumber(toDay) + 1);
      for (let i = first; i < last; i++) total[environment[i]!] = 0;
      for (let i = first; i < last; i++) total[environment[i]!]! += hours[i]!;
      let most = -1;
      for (let i = first; i < last; i++) {
        const sum = total[environment[i]!]!;
        if (sum > 0 && (most < 0 || sum > total[most]!)) most = environment[i]!;
      }
      return most < 0 ? null : environments[most]!;
    },
  };
}

function hoursFlown(flying: FlyingRows): FlownHours {
  const environments = [...flying.environment.words];
  if (!environments.includes(UNASSIGNED)) environments.push(UNASSIGNED);
  const unassigned = environments.indexOf(UNASSIGNED);
  const { aircraft, environment, hours } = flying;
  const rows = rowsByNumber(aircraft.words.length, aircraft.codes, flying.month, null);
  const flown = {
    aircraft: new Map(aircraft.words.map((word, number) => [word, number])),
    start: new Int32Array(aircraft.words.length + 1),
    month: new Int32Array(rows.order.length),
    environment: new Int32Array(rows.order.length),
    hours: new Float64Array(rows.order.length),
    environments,
  };
  let entries = 0;
  for (let number = 0; number < aircraft.words.length; number++) {
    for (let i = rows.start[number]!; i < rows.start[number + 1]!; i++) {
      const row = rows.order[i]!;
      const month = monthNumber(flying.month[row]!);
      const code = environment.codes[row]!;
      const at = code < 0 ? unassigned : code;
      let entry = entries - 1;
      while (entry >= flown.start[number]! && flown.month[entry] === month && flown.environment[entry] !== at)
        entry--;
      if (entry < flown.start[number]! || flown.month[entry] !== month) {
        entry = entries++;
        flown.month[entry] = month;
        flown.environment[entry] = at;
      }
      flown.hours[entry]! += hours[row]!;
    }
    flown.start[number + 1] = entries;
  }
  return flown;
}

/** Place of the first month from `least` on, among sorted ones; `end` without one. */
function firstFrom(months: Int32Array, start: number, end: number, least: number): number {
  let low = start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (months[middle]! < least) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Months from the one of `fromDay` to the one of `toDay`, both included, as YYYY-MM. */
export function monthsBetween(fromDay: Day, toDay: Day): string[] {
  const months: string[] = [];
  let [year, month] = isoMonth(fromDay).split("-").map(Number) as [number, number];
  const last = isoMonth(toDay);
  for (;;) {
    const text = `${year}-${String(month).padStart(2, "0")}`;
    if (text > last) return months;
    months.push(text);
    month++;
    if (month > 12) {
      month = 1;
      year++;
    }
  }
}
