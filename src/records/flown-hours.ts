/** The hours of the `flying` export by aircraft, month and environment. */
import { monthNumber } from "../units.ts";
import type { FlyingRows } from "./exports.ts";
import { rowsByNumber } from "./rows-by-number.ts";
import { UNASSIGNED } from "./words.ts";

/** Entries in order of aircraft, then month; those of one month in the order in which their environments are first met. */
export interface FlownHours {
  readonly aircraft: readonly string[];
  /** Entries of aircraft a are start[a] … start[a + 1] − 1. */
  readonly start: Int32Array;
  /** By `monthNumber`. */
  readonly month: Int32Array;
  /** Number in `environments`. */
  readonly environment: Int32Array;
  readonly hours: Float64Array;
  readonly environments: readonly string[];
}

const GATHERED = new WeakMap<FlyingRows, FlownHours>();

/** The rows that name an aircraft, gathered once however many ask for them. */
export function hoursFlown(flying: FlyingRows): FlownHours {
  const known = GATHERED.get(flying);
  if (known !== undefined) return known;
  const gathered = gather(flying);
  GATHERED.set(flying, gathered);
  return gathered;
}

function gather(flying: FlyingRows): FlownHours {
  const { aircraft, environment, hours } = flying;
  const environments = [...environment.words];
  if (!environments.includes(UNASSIGNED)) environments.push(UNASSIGNED);
  const unassigned = environments.indexOf(UNASSIGNED);
  const rows = rowsByNumber(aircraft.words.length, aircraft.codes, flying.month, null);
  const flown = {
    aircraft: aircraft.words,
    start: new Int32Array(aircraft.words.length + 1),
    month: new Int32Array(rows.order.length),
    environment: new Int32Array(rows.order.length),
    hours: new Float64Array(rows.order.length),
    environments,
  };
  let entries = 0;
  for (let number = 0; number < aircraft.words.length; number++) {
    const first = entries;
    for (let i = rows.start[number]!; i < rows.start[number + 1]!; i++) {
      const row = rows.order[i]!;
      const month = monthNumber(flying.month[row]!);
      const code = environment.codes[row]!;
      const at = code < 0 ? unassigned : code;
      // A month has a row or two.
      let entry = entries - 1;
      while (entry >= first && flown.month[entry] === month && flown.environment[entry] !== at) entry--;
      if (entry < first || flown.month[entry] !== month) {
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

/** Place of the first month from `least` on among sorted ones, from `start` to before `end`; `end` without one. */
export function firstMonthFrom(months: ArrayLike<number>, start: number, end: number, least: number): number {
  // Most aircraft fly every month, and have one entry for each.
  const likely = start + Math.max(0, least - (months[start] ?? least));
  if (likely < end && months[likely]! >= least && (likely === start || months[likely - 1]! < least))
    return likely;
  let low = start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (months[middle]! < least) low = middle + 1;
    else high = middle;
  }
  return low;
}
