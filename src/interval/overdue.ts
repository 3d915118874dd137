/**
 * Looks overdue: hours flown since the last look against the interval and its tolerance. Hours are counted, never
 * estimated: from the roster's hours now, else from the months of the flying export that lie wholly after the look.
 */

import { countsAirframeHours } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import { presentInterval } from "../fleet/intervals.ts";
import { type ReadExports, wordAt } from "../records/exports.ts";
import { type FittingIndex, indexFittings } from "../records/fittings.ts";
import type { GroupKey } from "../records/life.ts";
import { type Day, monthEnd } from "../units.ts";
import type { ActNowLine } from "./month-result.ts";
import { placeOf } from "./place.ts";

export interface OverdueContext {
  readonly exports: ReadExports;
  readonly fleet: Fleet;
  readonly asOf: Day;
  /** How airframe hours become a component's; null where the exports count the component's own. */
  readonly fittings: FittingIndex | null;
  /** Roster row of each component with its latest fitting, where there is one. */
  readonly rosterRow: ReadonlyMap<number, number>;
  /** Hours flown by aircraft and month end. */
  readonly flown: ReadonlyMap<string, readonly { readonly monthStart: Day; readonly hours: number }[]>;
}

/** What the search for overdue looks needs, gathered once a month. */
export function overdueContext(exports: ReadExports, fleet: Fleet, asOf: Day): OverdueContext {
  const { installed, flying } = exports;
  const rosterRow = new Map<number, number>();
  for (let row = 0; row < (installed?.rows ?? 0); row++) {
    const component = installed!.component[row]!;
    const known = rosterRow.get(component);
    if (installed!.installedOn[row]! > asOf) continue;
    if (known === undefined || installed!.installedOn[row]! >= installed!.installedOn[known]!)
      rosterRow.set(component, row);
  }
  const flown = new Map<string, { monthStart: Day; hours: number }[]>();
  for (let row = 0; row < (flying?.rows ?? 0); row++) {
    const code = flying!.aircraft.codes[row]!;
    if (code < 0 || monthEnd(flying!.month[row]!) > asOf) continue;
    const aircraft = flying!.aircraft.words[code]!;
    const months = flown.get(aircraft) ?? [];
    months.push({ monthStart: flying!.month[row]!, hours: flying!.hours[row]! });
    flown.set(aircraft, months);
  }
  const fittings = countsAirframeHours(fleet) ? indexFittings(exports, asOf, true) : null;
  return { exports, fleet, asOf, fittings, rosterRow, flown };
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
  const { exports, fleet, asOf } = context;
  const since = hoursSinceLook(context, component, lastLook);
  if (since === null) return null;
  for (const task of fleet.tasks) {
    if (task.part !== base.group.part) continue;
    const { intervalH } = presentInterval(fleet, task, base.group.environment, base.group.standard, asOf);
    const dueH = intervalH * (1 + task.tolerance);
    if (since.hours <= dueH) continue;
    return {
      ...base,
      kind: "look overdue",
      where: since.where,
      found: `${Math.round(since.hours)} h flown since ${lastLook < 0 ? "it was fitted; no look on record" : "the last look"}`,
      limit: `${task.task} every ${intervalH} h, at most ${Math.round(dueH)} h with its tolerance`,
      day: asOf,
      source: `${exports.files[since.file]!.file}:${since.line}`,
    };
  }
  return null;
}

function hoursSinceLook(
  context: OverdueContext,
  component: number,
  lastLook: number,
): { hours: number; where: string; file: number; line: number } | null {
  const { exports, rosterRow, flown } = context;
  const { wear, installed } = exports;
  const roster = rosterRow.get(component);
  if (installed && roster !== undefined && !Number.isNaN(installed.hoursNow[roster]!)) {
    return {
      hours: installed.hoursNow[roster]! - hoursAtLook(context, component, lastLook, roster),
      where: placeOf(installed.aircraft, installed.position, roster),
      file: installed.file[roster]!,
      line: installed.line[roster]!,
    };
  }
  if (!wear || lastLook < 0 || wear.aircraft.codes[lastLook]! < 0) return null;
  const months = flown.get(wear.aircraft.words[wear.aircraft.codes[lastLook]!]!);
  if (!months) return null;
  const lookedOn = wear.day[lastLook]!;
  const hours = months.reduce((sum, month) => (month.monthStart > lookedOn ? sum + month.hours : sum), 0);
  return {
    hours,
    where: placeOf(wear.aircraft, wear.position, lastLook),
    file: wear.file[lastLook]!,
    line: wear.line[lastLook]!,
  };
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
