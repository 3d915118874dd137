/**
 * Where and when each component was fitted, from the `installed` export: hours at installation, base, aircraft now.
 */

import type { Day } from "../units.ts";
import { FINDING, type ReadExports, wordAt } from "./exports.ts";
import type { RowRef } from "./life.ts";
import { type RowsByNumber, rowsByNumber } from "./rows-by-number.ts";
import { SAME_HOURS } from "./same-hours.ts";
import { NOT_A_FAILURE } from "./words.ts";

export interface Fitting {
  /** Which of its component's fittings, from 0 at the earliest. */
  readonly nth: number;
  readonly installedOn: Day;
  /** Component hours at installation; airframe hours where the wear export counts those. */
  readonly hoursAtInstallation: number;
  readonly aircraft: string;
  readonly position: string;
  /** null: the roster records no base. */
  readonly environment: string | null;
  readonly row: RowRef;
}

/** A row whose airframe hours are to become a component's. */
export interface AirframeRow {
  readonly day: Day;
  readonly airframeHours: number;
  /** "": not recorded. */
  readonly aircraft: string;
  readonly isRemoval: boolean;
}

export interface FittingIndex {
  /** Fittings of a component, earliest first. */
  of(component: number): readonly Fitting[];
  /** The latest fitting on or before `day`, or null. */
  at(component: number, day: Day): Fitting | null;
  /**
   * Hours since fitted from airframe hours, those of earlier fittings of the same life added; NaN where they can't be
   * known: no fitting on that aircraft, or no removal that says when an earlier one ended.
   */
  sinceFitted(component: number, row: AirframeRow): number;
  /** Hours on the life's clock at one of the component's fittings; NaN where they can't be known. */
  lifeHoursAt(component: number, fitting: Fitting): number;
}

/**
 * Index of the roster rows up to the as-of day. Without an `installed` export it answers that nothing is known.
 * @param airframeClock  true where the exports count airframe hours, the roster's too
 */
export function indexFittings(exports: ReadExports, asOf: Day, airframeClock: boolean): FittingIndex {
  const { installed } = exports;
  const { start, order } = rosterRows(exports, asOf);
  const nth = (component: number, at: number): Fitting =>
    fittingOf(installed!, order[start[component]! + at]!, at);
  const of = (component: number): readonly Fitting[] => {
    const fittings: Fitting[] = [];
    const count = start[component + 1]! - start[component]!;
    for (let at = 0; at < count; at++) fittings.push(nth(component, at));
    return fittings;
  };
  const at = (component: number, day: Day): Fitting | null => {
    for (let i = start[component + 1]! - 1; i >= start[component]!; i--)
      if (installed!.installedOn[order[i]!]! <= day) return nth(component, i - start[component]!);
    return null;
  };
  let removals: ReadonlyMap<number, readonly AirframeRemoval[]> | null = null;
  const carried = new Map<number, readonly number[]>();
  const carriedOf = (component: number): readonly number[] => {
    removals ??= airframeRemovals(exports, asOf);
    const known = carried.get(component) ?? carriedHours(of(component), removals.get(component) ?? []);
    carried.set(component, known);
    return known;
  };
  return {
    of,
    at,
    sinceFitted(component, row) {
      const list = of(component);
      const fitting = fittingFor(list, row);
      if (fitting < 0) return Number.NaN;
      return carriedOf(component)[fitting]! + flownSince(list[fitting]!, row.airframeHours);
    },
    lifeHoursAt(component, fitting) {
      if (!airframeClock) return fitting.hoursAtInstallation;
      return carriedOf(component)[fitting.nth] ?? Number.NaN;
    },
  };
}

/** Roster rows up to the as-of day by component, earliest first. */
function rosterRows({ installed, components }: ReadExports, asOf: Day): RowsByNumber {
  if (installed === null) return { start: new Int32Array(components.count + 1), order: new Int32Array(0) };
  const { component, installedOn } = installed;
  return rowsByNumber(components.count, component, installedOn, null, (row) => installedOn[row]! <= asOf);
}

/** Airframe hours since a fitting; NaN where they were fewer that day than at the fitting. */
function flownSince(fitting: Fitting, airframeHours: number): number {
  const hours = airframeHours - fitting.hoursAtInstallation;
  return hours < -SAME_HOURS ? Number.NaN : Math.max(0, hours);
}

/**
 * Number of the fitting that a row's airframe hours count from; -1 where none is known. On the day of a fitting the
 * one before may still be meant: a removal ends that one, and so does a look on its aircraft.
 */
function fittingFor(list: readonly Fitting[], row: AirframeRow): number {
  const last = list.findLastIndex(({ installedOn }) => installedOn <= row.day);
  if (last < 0) return -1;
  const fits = (i: number) => {
    const { aircraft } = list[i]!;
    return row.aircraft === "" || aircraft === "" || aircraft === row.aircraft;
  };
  const both = list[last]!.installedOn === row.day && last > 0 ? [last, last - 1] : [last];
  const known = both.filter(fits);
  const ended = row.isRemoval
    ? known.at(-1)
    : known.find((i) => row.airframeHours >= list[i]!.hoursAtInstallation);
  return ended ?? known[0] ?? -1;
}

interface AirframeRemoval extends AirframeRow {
  /** False where the component was taken off as failed: fitted again, it begins another life. */
  readonly sameLife: boolean;
}

function airframeRemovals(exports: ReadExports, asOf: Day): ReadonlyMap<number, readonly AirframeRemoval[]> {
  const by = new Map<number, AirframeRemoval[]>();
  const { removals } = exports;
  for (let row = 0; row < (removals?.rows ?? 0); row++) {
    const day = removals!.day[row]!;
    if (day > asOf) continue;
    const list = by.get(removals!.component[row]!) ?? [];
    by.set(removals!.component[row]!, list);
    list.push({
      day,
      airframeHours: removals!.hours[row]!,
      aircraft: wordAt(removals!.aircraft, row) ?? "",
      isRemoval: true,
      sameLife:
        wordAt(removals!.mode, row) === NOT_A_FAILURE || removals!.finding[row] === FINDING.noFaultFound,
    });
  }
  return by;
}

/** Component hours at each fitting: what it had flown in the earlier ones of the same life. */
function carriedHours(list: readonly Fitting[], removals: readonly AirframeRemoval[]): readonly number[] {
  const carried: number[] = [];
  for (const [i, fitting] of list.entries()) {
    const before = list[i - 1];
    if (before === undefined) {
      carried.push(0);
      continue;
    }
    const ended = removals.filter(
      (removal) =>
        removal.day >= before.installedOn &&
        removal.day <= fitting.installedOn &&
        fittingFor(list, removal) === i - 1,
    );
    const last = ended.reduce<AirframeRemoval | null>(
      (latest, removal) => (latest === null || removal.day >= latest.day ? removal : latest),
      null,
    );
    if (last === null) carried.push(Number.NaN);
    else carried.push(last.sameLife ? carried[i - 1]! + flownSince(before, last.airframeHours) : 0);
  }
  return carried;
}

function fittingOf(installed: NonNullable<ReadExports["installed"]>, row: number, nth: number): Fitting {
  return {
    nth,
    installedOn: installed.installedOn[row]!,
    hoursAtInstallation: installed.hoursAtInstallation[row]!,
    aircraft: wordAt(installed.aircraft, row) ?? "",
    position: wordAt(installed.position, row) ?? "",
    environment: wordAt(installed.environment, row),
    row: { kind: "installed", file: installed.file[row]!, line: installed.line[row]! },
  };
}
