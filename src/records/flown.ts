/**
 * Where hours were flown: by aircraft and month from the `flying` export.
 */
import { type Day, isoMonth } from "../units.ts";
import type { ReadExports } from "./exports.ts";
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

/** Index of the flying export. */
export function indexFlown(exports: ReadExports): FlownIndex {
  const { flying } = exports;
  const byAircraft = new Map<string, Map<string, Map<string, number>>>();
  for (let row = 0; row < (flying?.rows ?? 0); row++) {
    const aircraftCode = flying!.aircraft.codes[row]!;
    if (aircraftCode < 0) continue;
    const environmentCode = flying!.environment.codes[row]!;
    const environment = environmentCode < 0 ? UNASSIGNED : flying!.environment.words[environmentCode]!;
    const months = getOrAdd(
      byAircraft,
      flying!.aircraft.words[aircraftCode]!,
      () => new Map<string, Map<string, number>>(),
    );
    const hours = getOrAdd(months, isoMonth(flying!.month[row]!), () => new Map<string, number>());
    hours.set(environment, (hours.get(environment) ?? 0) + flying!.hours[row]!);
  }
  return {
    known: flying !== null && flying.rows > 0 && flying.environment.words.length > 0,
    mainEnvironment(aircraft, fromDay, toDay) {
      const months = byAircraft.get(aircraft);
      if (!months) return null;
      const total = new Map<string, number>();
      for (const month of monthsBetween(fromDay, toDay)) {
        for (const [environment, hours] of months.get(month) ?? []) {
          total.set(environment, (total.get(environment) ?? 0) + hours);
        }
      }
      let most: string | null = null;
      for (const [environment, hours] of total) {
        if (hours > 0 && (most === null || hours > total.get(most)!)) most = environment;
      }
      return most;
    },
  };
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

function getOrAdd<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  const found = map.get(key);
  if (found !== undefined) return found;
  const made = make();
  map.set(key, made);
  return made;
}
