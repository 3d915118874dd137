/**
 * Looks overdue: hours flown since the last look against the interval and its tolerance. Hours are counted, never
 * estimated: from the roster's hours now and from the months of the flying export that lie wholly after the look, of which
 * the larger count, since either may be behind. The interval is that of the group of the last look or of where the component
 * is now, whichever is shorter.
 */

import { countsAirframeHours } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import { presentInterval } from "../fleet/intervals.ts";
import { type InstalledRows, type ReadExports, type WearRows, wordAt } from "../records/exports.ts";
import { type FittingIndex, indexFittings } from "../records/fittings.ts";
import { indexFlown } from "../records/flown.ts";
import { firstMonthFrom, hoursFlown } from "../records/flown-hours.ts";
import { GroupKeys, rememberedBy } from "../records/group-keys.ts";
import type { GroupKey } from "../records/life.ts";
import { standardAt } from "../records/standard.ts";
import { UNASSIGNED } from "../records/words.ts";
import { type Day, lastWholeMonth, monthNumber } from "../units.ts";
import type { ActNowLine } from "./month-result.ts";
import { placeOf } from "./place.ts";
import { placeNow } from "./place-now.ts";
import { rosterHours } from "./roster-hours.ts";

export interface OverdueContext {
  readonly exports: ReadExports;
  readonly fleet: Fleet;
  readonly asOf: Day;
  /** How airframe hours become a component's; null where the exports count the component's own. */
  readonly fittings: FittingIndex | null;
  /** Roster row of each component with its latest fitting; -1 where there is none. */
  readonly rosterRow: Int32Array;
  /** Hours now of a roster row, as of the day; NaN where not known. */
  readonly hoursNow: (row: number) => number;
  /** Hours that an aircraft flew in the months that lie wholly after a day; null where it has none on record. */
  readonly flownAfter: (aircraft: string, day: Day) => number | null;
  /** Where an aircraft flew most of its hours between two days; null where that is not on record. */
  readonly flownIn: (aircraft: string, from: Day, to: Day) => string | null;
  /** Each task of a group with its interval, and with its tolerance. */
  readonly dueIn: (group: GroupKey) => readonly Due[];
  readonly groups: GroupKeys;
}

interface Due {
  readonly group: GroupKey;
  readonly task: string;
  readonly intervalH: number;
  readonly dueH: number;
}

/** What the search for overdue looks needs, gathered once a month. */
export function overdueContext(exports: ReadExports, fleet: Fleet, asOf: Day): OverdueContext {
  const { installed, components } = exports;
  const rosterRow = new Int32Array(components.count).fill(-1);
  for (let row = 0; row < (installed?.rows ?? 0); row++) {
    const component = installed!.component[row]!;
    if (component < 0 || installed!.installedOn[row]! > asOf) continue;
    const known = rosterRow[component]!;
    if (known < 0 || installed!.installedOn[row]! >= installed!.installedOn[known]!)
      rosterRow[component] = row;
  }
  const fittings = countsAirframeHours(fleet) ? indexFittings(exports, asOf, true) : null;
  const flownAfter = flownInMonthsAfter(exports, asOf);
  const dueIn = rememberedBy((group) => duesOf(fleet, group, asOf));
  const hoursNow = rosterHours(exports, asOf);
  const { mainEnvironment: flownIn } = indexFlown(exports);
  const groups = new GroupKeys();
  return { exports, fleet, asOf, fittings, rosterRow, hoursNow, flownAfter, flownIn, dueIn, groups };
}

const duesOf = (fleet: Fleet, group: GroupKey, asOf: Day): Due[] =>
  fleet.tasks
    .filter(({ part }) => part === group.part)
    .map((task) => {
      const { intervalH } = presentInterval(fleet, task, group.environment, group.standard, asOf);
      return { group, task: task.task, intervalH, dueH: intervalH * (1 + task.tolerance) };
    });

/** Gathered when it is first asked: a fleet whose roster says hours now never asks. */
function flownInMonthsAfter({ flying }: ReadExports, asOf: Day): OverdueContext["flownAfter"] {
  if (flying === null) return () => null;
  const lastMonth = lastWholeMonth(asOf);
  const gathered = () => {
    const flown = hoursFlown(flying);
    return { ...flown, numbers: new Map(flown.aircraft.map((name, number) => [name, number])) };
  };
  let flown: ReturnType<typeof gathered> | null = null;
  return (aircraft, day) => {
    flown ??= gathered();
    const number = flown.numbers.get(aircraft);
    if (number === undefined) return null;
    const start = flown.start[number]!;
    const end = firstMonthFrom(flown.month, start, flown.start[number + 1]!, lastMonth + 1);
    if (end === start) return null;
    let hours = 0;
    for (let i = firstMonthFrom(flown.month, start, end, monthNumber(day) + 1); i < end; i++)
      hours += flown.hours[i]!;
    return hours;
  };
}

/**
 * The overdue line of a fitted component, or null. @param lastLook  row of its last look, -1 where it has none
 */
export function overdueLine(
  context: OverdueContext,
  component: number,
  lastLook: number,
  base: { readonly group: GroupKey; readonly serial: string },
): ActNowLine | null {
  const { exports } = context;
  const since = hoursSinceLook(context, component, lastLook);
  if (since === null) return null;
  const dues = groupsOf(context, component, lastLook, base.group).map((group) => context.dueIn(group));
  for (let task = 0; task < dues[0]!.length; task++) {
    const shortest = dues.map((due) => due[task]!).reduce((a, b) => (b.dueH < a.dueH ? b : a));
    if (since.hours <= shortest.dueH) continue;
    const { table, row } = since;
    return {
      ...{ ...base, group: shortest.group },
      kind: "look overdue",
      where: placeOf(table.aircraft, table.position, row),
      found: `${Math.round(since.hours)} h flown since ${lastLook < 0 ? "it was fitted; no look on record" : "the last look"}`,
      limit: `${shortest.task} every ${shortest.intervalH} h, at most ${Math.round(shortest.dueH)} h with its tolerance`,
      day: since.until,
      source: `${exports.files[table.file[row]!]!.file}:${table.line[row]!}`,
    };
  }
  return null;
}

/** The group of the last look, and those of where the roster has the component now and where its aircraft has flown since. */
function groupsOf(
  context: OverdueContext,
  component: number,
  lastLook: number,
  group: GroupKey,
): readonly GroupKey[] {
  const place = placeNow(context.exports, context.rosterRow, component, lastLook);
  if (place === null) return [group];
  const { since, aircraft, table, row, roster } = place;
  const recorded = standardAt(table.standard, row);
  const standard = recorded === UNASSIGNED ? group.standard : recorded;
  const environments = [
    roster < 0 ? null : wordAt(context.exports.installed!.environment, roster),
    aircraft === null ? null : context.flownIn(aircraft, since, context.asOf),
  ];
  const now = environments
    .filter((environment) => environment !== null && environment !== UNASSIGNED)
    .map((environment) => context.groups.of(group.part, environment!, standard));
  return [group, ...now];
}

/** Hours flown since the last look, and the row that says so. */
interface HoursSince {
  readonly hours: number;
  /** The day up to which they are known: a roster of months ago says nothing of today. */
  readonly until: Day;
  readonly table: InstalledRows | WearRows;
  readonly row: number;
}

/** The larger of what the roster and the flying export say; null: neither. @param lastLook  row of its last look, -1: none */
export function hoursSinceLook(
  context: OverdueContext,
  component: number,
  lastLook: number,
): HoursSince | null {
  const byRoster = hoursByRoster(context, component, lastLook);
  const byFlying = hoursByFlying(context, component, lastLook);
  if (byRoster === null || byFlying === null) return byRoster ?? byFlying;
  return byFlying.hours > byRoster.hours ? byFlying : byRoster;
}

function hoursByRoster(context: OverdueContext, component: number, lastLook: number): HoursSince | null {
  const { installed } = context.exports;
  const roster = context.rosterRow[component]!;
  const hoursNow = roster < 0 ? Number.NaN : context.hoursNow(roster);
  if (installed === null || Number.isNaN(hoursNow)) return null;
  const hours = hoursNow - hoursAtLook(context, component, lastLook, roster);
  const exported = context.exports.files[installed.file[roster]!]!.exported ?? context.asOf;
  return { hours, until: Math.min(exported, context.asOf), table: installed, row: roster };
}

function hoursByFlying(context: OverdueContext, component: number, lastLook: number): HoursSince | null {
  const place = placeNow(context.exports, context.rosterRow, component, lastLook);
  if (place === null || place.aircraft === null) return null;
  const hours = context.flownAfter(place.aircraft, place.since);
  return hours === null ? null : { hours, until: context.asOf, table: place.table, row: place.row };
}

/** Hours on the roster's clock at the last look, at the fitting where that is all that is known. */
function hoursAtLook(
  { exports, fittings }: OverdueContext,
  component: number,
  lastLook: number,
  roster: number,
): number {
  const wear = exports.wear!;
  const installed = exports.installed!;
  const atInstallation = installed.hoursAtInstallation[roster]!;
  if (lastLook < 0) return atInstallation;
  const lookedAt = wear.hours[lastLook]!;
  if (wear.day[lastLook]! >= installed.installedOn[roster]!) return lookedAt;
  if (fittings === null) {
    // A look before the fitting still counts, on the same clock; a clock that started again counts from the fitting.
    return Math.min(lookedAt, atInstallation);
  }
  // Airframes count apart: what was flown between the look and the fitting is known from the component's own hours.
  const fitting = fittings.at(component, installed.installedOn[roster]!);
  const own = fittings.sinceFitted(component, {
    day: wear.day[lastLook]!,
    airframeHours: lookedAt,
    aircraft: wordAt(wear.aircraft, lastLook) ?? "",
    isRemoval: false,
  });
  const between = fitting === null ? Number.NaN : fittings.lifeHoursAt(component, fitting) - own;
  return between > 0 ? atInstallation - between : atInstallation;
}
