/**
 * Where hours were flown: by aircraft and month from the `flying` export.
 */
import { type Day, monthNumber, monthStart } from "../units.ts";
import type { ReadExports } from "./exports.ts";
import { type FlownHours, firstMonthFrom, hoursFlown } from "./flown-hours.ts";

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
  if (flying === null) return { known: false, mainEnvironment: () => null };
  const flown = hoursFlown(flying);
  const { aircraft: names, start, month, environment, hours, environments } = flown;
  const numbers = new Map(names.map((name, number) => [name, number]));
  // The looks of a component are mostly on one aircraft.
  let last = { aircraft: "", number: -1 };
  const numberOf = (aircraft: string): number => {
    if (aircraft !== last.aircraft) last = { aircraft, number: numbers.get(aircraft) ?? -1 };
    return last.number;
  };
  const steady = steadyAircraft(flown);
  const total = new Float64Array(environments.length);
  return {
    known: flying.rows > 0 && flying.environment.words.length > 0,
    mainEnvironment(aircraft, fromDay, toDay) {
      const number = numberOf(aircraft);
      if (number < 0) return null;
      if (steady.environment[number]! >= 0 && fromDay <= toDay) {
        const isOutside = toDay < steady.firstDay[number]! || fromDay > steady.lastDay[number]!;
        return isOutside ? null : environments[steady.environment[number]!]!;
      }
      const end = start[number + 1]!;
      const first = firstMonthFrom(month, start[number]!, end, monthNumber(fromDay));
      const last = firstMonthFrom(month, first, end, monthNumber(toDay) + 1);
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

/** Aircraft that flew every month from their first to their last, all of it in one environment, as most do. */
interface SteadyAircraft {
  /** By aircraft; -1: this one moved, or had a month without hours. */
  readonly environment: Int32Array;
  readonly firstDay: Int32Array;
  readonly lastDay: Int32Array;
}

function steadyAircraft({ aircraft, start, month, environment, hours }: FlownHours): SteadyAircraft {
  const steady = {
    environment: new Int32Array(aircraft.length).fill(-1),
    firstDay: new Int32Array(aircraft.length),
    lastDay: new Int32Array(aircraft.length),
  };
  for (let number = 0; number < aircraft.length; number++) {
    const first = start[number]!;
    const end = start[number + 1]!;
    let at = first;
    while (
      at < end &&
      month[at]! - month[first]! === at - first &&
      environment[at] === environment[first] &&
      hours[at]! > 0
    )
      at++;
    if (at === first || at < end) continue;
    steady.environment[number] = environment[first]!;
    steady.firstDay[number] = monthStart(month[first]!);
    steady.lastDay[number] = monthStart(month[end - 1]! + 1) - 1;
  }
  return steady;
}
