/**
 * Removals of each aircraft on its own flight hours in an environment, for the mean cumulative function. Hours count from
 * the first month of the flying export; a month's hours are taken as flown evenly.
 */
import { type ReadExports, wordAt } from "../records/exports.ts";
import { UNASSIGNED } from "../records/words.ts";
import { addMonths, type Day, dayFromIso, isoMonth, monthEnd } from "../units.ts";
import type { ObservedUnit } from "./mean-cumulative.ts";

/** Hours of one aircraft in one environment, by month. */
export type AircraftHours = ReadonlyMap<string, number>;

/** Environment, then aircraft: hours by month, of months over by the as-of day. */
export function hoursByAircraft(
  exports: ReadExports,
  asOf: Day,
): Map<string, Map<string, Map<string, number>>> {
  const flying = exports.flying!;
  const environments = new Map<string, Map<string, Map<string, number>>>();
  for (let row = 0; row < flying.rows; row++) {
    const aircraft = wordAt(flying.aircraft, row);
    if (aircraft === null || monthEnd(flying.month[row]!) > asOf) continue;
    const environment = wordAt(flying.environment, row) ?? UNASSIGNED;
    const fleet = environments.get(environment) ?? new Map<string, Map<string, number>>();
    environments.set(environment, fleet);
    const months = fleet.get(aircraft) ?? new Map<string, number>();
    fleet.set(aircraft, months);
    const month = isoMonth(flying.month[row]!);
    months.set(month, (months.get(month) ?? 0) + flying.hours[row]!);
  }
  return environments;
}

export interface AircraftEvents {
  readonly units: readonly ObservedUnit[];
  /** Events without an aircraft, or in a month in which theirs flew no hours there: left out. */
  readonly leftOut: number;
}

/**
 * One unit an aircraft, in the order of the names.
 *
 * @param fleet   hours of each aircraft by month
 * @param events  aircraft (null: not recorded) and day of each event
 */
export function aircraftEvents(
  fleet: ReadonlyMap<string, AircraftHours>,
  events: readonly { readonly aircraft: string | null; readonly day: Day }[],
): AircraftEvents {
  const before = new Map<string, Map<string, number>>();
  const units = new Map<string, { endHours: number; eventHours: number[] }>();
  for (const aircraft of [...fleet.keys()].sort()) {
    const months = fleet.get(aircraft)!;
    const starts = new Map<string, number>();
    let total = 0;
    for (const month of [...months.keys()].sort()) {
      starts.set(month, total);
      total += months.get(month)!;
    }
    before.set(aircraft, starts);
    units.set(aircraft, { endHours: total, eventHours: [] });
  }
  let leftOut = 0;
  for (const { aircraft, day } of events) {
    const month = isoMonth(day);
    const hours = aircraft === null ? 0 : (fleet.get(aircraft)?.get(month) ?? 0);
    if (hours > 0)
      units.get(aircraft!)!.eventHours.push(before.get(aircraft!)!.get(month)! + hours * shareOfMonth(day));
    else leftOut++;
  }
  return { units: [...units.values()].filter(({ endHours }) => endHours > 0), leftOut };
}

/** How much of its month had passed by the middle of a day. */
export function shareOfMonth(day: Day): number {
  const first = dayFromIso(`${isoMonth(day)}-01`)!;
  return (day - first + 0.5) / (addMonths(first, 1) - first);
}
