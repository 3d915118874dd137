/** Flight hours of the twelve months up to a day, by place and aircraft, and of a group's fitted components among them. */
import type { ReadExports } from "../records/exports.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { addMonths, type Day, monthEnd } from "../units.ts";
import { isRunning } from "./watch-list.ts";

/** Hours by environment, then by aircraft. Where the flying export names no place, under EVERYWHERE. */
export type FlownLastYear = ReadonlyMap<string, ReadonlyMap<string, number>>;

const EVERYWHERE = "";

/** null without an export of hours flown. */
export function flownLastYear({ flying }: ReadExports, asOf: Day): FlownLastYear | null {
  if (flying === null || flying.rows === 0) return null;
  const yearAgo = addMonths(asOf, -12);
  const counts = new Map<number, boolean>();
  const counted = (month: number): boolean => {
    let inYear = counts.get(month);
    if (inYear === undefined) {
      const end = monthEnd(month);
      inYear = end > yearAgo && end <= asOf;
      counts.set(month, inYear);
    }
    return inYear;
  };
  const { environment, aircraft, month, hours } = flying;
  const placed = environment.words.length > 0;
  const flown = new Map<string, Map<string, number>>();
  for (let row = 0; row < flying.rows; row++) {
    const code = aircraft.codes[row]!;
    if (code < 0 || !counted(month[row]!)) continue;
    const place = placed ? environment.words[environment.codes[row]!] : EVERYWHERE;
    if (place === undefined) continue;
    const there = flown.get(place) ?? new Map<string, number>();
    flown.set(place, there);
    const name = aircraft.words[code]!;
    there.set(name, (there.get(name) ?? 0) + hours[row]!);
  }
  return flown;
}

/**
 * Flight hours of the group's fitted components in those twelve months: each has the hours that its aircraft flew in the
 * group's environment. null without an export of hours flown.
 */
export function componentHoursPerYear(
  flown: FlownLastYear | null,
  lives: readonly Life[],
  { environment }: GroupKey,
): number | null {
  if (flown === null) return null;
  const there = flown.get(environment) ?? flown.get(EVERYWHERE);
  return lives.filter(isRunning).reduce((sum, { aircraft }) => sum + (there?.get(aircraft) ?? 0), 0);
}
