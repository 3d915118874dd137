/**
 * Looks overdue: hours flown since the last look against the interval and its tolerance. Hours are counted, never
 * estimated: from the roster's hours now, else from the months of the flying export that lie wholly after the look.
 */

import { countsAirframeHours } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import { presentInterval } from "../fleet/intervals.ts";
import { type InstalledRows, type ReadExports, type WearRows, wordAt } from "../records/exports.ts";
import { type FittingIndex, indexFittings } from "../records/fittings.ts";
import { firstMonthFrom, hoursFlown } from "../records/flown-hours.ts";
import { rememberedBy } from "../records/group-keys.ts";
import type { GroupKey } from "../records/life.ts";
import { type Day, lastWholeMonth, monthNumber } from "../units.ts";
import type { ActNowLine } from "./month-result.ts";
import { placeOf } from "./place.ts";
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
  /** Each task of a group with its interval, and with its tolerance. */
  readonly dueIn: (group: GroupKey) => readonly Due[];
}

interface Due {
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
  return { exports, fleet, asOf, fittings, rosterRow, hoursNow, flownAfter, dueIn };
}

const duesOf = (fleet: Fleet, group: GroupKey, asOf: Day): Due[] =>
  fleet.tasks
    .filter(({ part }) => part === group.part)
    .map((task) => {
      const { intervalH } = presentInterval(fleet, task, group.environment, group.standard, asOf);
      return { task: task.task, intervalH, dueH: intervalH * (1 + task.tolerance) };
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
  const { exports, asOf } = context;
  const since = hoursSinceLook(context, component, lastLook);
  if (since === null) return null;
  for (const { task, intervalH, dueH } of context.dueIn(base.group)) {
    if (since.hours <= dueH) continue;
    const { table, row } = since;
    return {
      ...base,
      kind: "look overdue",
      where: placeOf(table.aircraft, table.position, row),
      found: `${Math.round(since.hours)} h flown since ${lastLook < 0 ? "it was fitted; no look on record" : "the last look"}`,
      limit: `${task} every ${intervalH} h, at most ${Math.round(dueH)} h with its tolerance`,
      day: asOf,
      source: `${exports.files[table.file[row]!]!.file}:${table.line[row]!}`,
    };
  }
  return null;
}

/** Hours flown since the last look, and the row that says so. */
interface HoursSince {
  readonly hours: number;
  readonly table: InstalledRows | WearRows;
  readonly row: number;
}

function hoursSinceLook(context: OverdueContext, component: number, lastLook: number): HoursSince | null {
  const { wear, installed } = context.exports;
  const roster = context.rosterRow[component]!;
  const hoursNow = roster < 0 ? Number.NaN : context.hoursNow(roster);
  if (installed && !Number.isNaN(hoursNow)) {
    const hours = hoursNow - hoursAtLook(context, component, lastLook, roster);
    return { hours, table: installed, row: roster };
  }
  const aircraft = wear && lastLook >= 0 ? wordAt(wear.aircraft, lastLook) : null;
  if (wear === null || aircraft === null) return null;
  const hours = context.flownAfter(aircraft, wear.day[lastLook]!);
  return hours === null ? null : { hours, table: wear, row: lastLook };
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
