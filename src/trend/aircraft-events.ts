/**
 * Removals of each aircraft on its own flight hours in an environment, for the mean cumulative function. Hours count from
 * the first month of the flying export; a month's hours are taken as flown evenly.
 */
import { type FlownHours, firstMonthFrom } from "../records/flown-hours.ts";
import { type Day, monthNumber, monthStart } from "../units.ts";
import type { ObservedUnit } from "./mean-cumulative.ts";

/** The hours that each aircraft flew in one environment. */
export interface AircraftHours {
  /** In order of the names. */
  readonly aircraft: readonly string[];
  /** Months of aircraft k are start[k] … start[k + 1] − 1, oldest first. */
  readonly start: readonly number[];
  /** By `monthNumber`. */
  readonly month: readonly number[];
  readonly hours: readonly number[];
}

/** Hours of each aircraft by environment, of months up to `lastMonth`. */
export function hoursByAircraft(flown: FlownHours, lastMonth: number): Map<string, AircraftHours> {
  const fleets = flown.environments.map(() => ({
    aircraft: [] as string[],
    start: [0],
    month: [] as number[],
    hours: [] as number[],
  }));
  const byName = flown.aircraft.map((name, number) => ({ name, number }));
  byName.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  for (const { name, number } of byName) {
    for (let i = flown.start[number]!; i < flown.start[number + 1]!; i++) {
      if (flown.month[i]! > lastMonth) break;
      const fleet = fleets[flown.environment[i]!]!;
      fleet.month.push(flown.month[i]!);
      fleet.hours.push(flown.hours[i]!);
    }
    for (const fleet of fleets) {
      if (fleet.month.length === fleet.start.at(-1)) continue;
      fleet.aircraft.push(name);
      fleet.start.push(fleet.month.length);
    }
  }
  return new Map(fleets.map((fleet, at) => [flown.environments[at]!, fleet]));
}

export interface AircraftEvents {
  readonly units: readonly ObservedUnit[];
  /** Events without an aircraft, or in a month in which theirs flew no hours there: left out. */
  readonly leftOut: number;
}

/**
 * One unit an aircraft, in the order of the names.
 *
 * @param events  aircraft (null: not recorded) and day of each event
 */
export function aircraftEvents(
  { aircraft, start, month, hours }: AircraftHours,
  events: readonly { readonly aircraft: string | null; readonly day: Day }[],
): AircraftEvents {
  const numbers = new Map<string | null, number>();
  const before = new Float64Array(month.length);
  const units = aircraft.map((name, number) => {
    numbers.set(name, number);
    let total = 0;
    for (let i = start[number]!; i < start[number + 1]!; i++) {
      before[i] = total;
      total += hours[i]!;
    }
    return { endHours: total, eventHours: [] as number[] };
  });
  let leftOut = 0;
  for (const { aircraft, day } of events) {
    const number = numbers.get(aircraft) ?? -1;
    const own = monthNumber(day);
    const end = start[number + 1]!;
    const at = number < 0 ? end : firstMonthFrom(month, start[number]!, end, own);
    if (at < end && month[at] === own && hours[at]! > 0)
      units[number]!.eventHours.push(before[at]! + hours[at]! * shareOfMonth(day));
    else leftOut++;
  }
  return { units: units.filter(({ endHours }) => endHours > 0), leftOut };
}

/** How much of its month had passed by the middle of a day. */
export function shareOfMonth(day: Day): number {
  const month = monthNumber(day);
  const first = monthStart(month);
  return (day - first + 0.5) / (monthStart(month + 1) - first);
}
