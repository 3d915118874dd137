/**
 * Where a life came under observation. A life under way when the records begin enters late: it counts only given that
 * it got that far, because those that did not are not in the records.
 */

import type { Day } from "../units.ts";
import type { FittingIndex } from "./fittings.ts";
import { SAME_HOURS } from "./same-hours.ts";
import type { LifeRun } from "./split-lives.ts";

export interface Entry {
  /** Hours at which it counts as known below the limit: its last look before the records, or an estimate of it. */
  readonly entryHours: number;
  /** Hours from which it was really watched. */
  readonly observedFromHours: number;
  /** About when its hours in the records begin. */
  readonly fromDay: Day;
}

/** What an entry is told by, besides the component's own rows. */
export interface EntryBasis {
  readonly fittings: FittingIndex;
  /** First day of the records of the aircraft it is first seen on. */
  readonly recordsBegin: Day;
  /** The component's own usage, or the fleet's where it has one look only. */
  readonly hoursPerDay: number;
  /** Hours between looks at that time: how long before its first look the last one before the records was. */
  readonly lookIntervalH: number;
  /** A first look already over the limit can't be the look it entered by. */
  readonly firstLookIsOver: boolean;
}

/** Where the first looked-at (or removed) moment of a run says that it came under observation. */
export function entryOf(run: LifeRun, component: number, basis: EntryBasis): Entry {
  const { fittings, recordsBegin, hoursPerDay, lookIntervalH, firstLookIsOver } = basis;
  const first = run.looks[0] ?? run.removal!;
  const watchedFrom = (hours: number, fromDay: Day): Entry => ({
    entryHours: lastLookBefore(hours, first.hours, lookIntervalH),
    observedFromHours: hours,
    fromDay,
  });
  const fromNewDay = Math.round(first.day - first.hours / hoursPerDay);
  const fitted = fittings.at(component, first.day);
  const fittedHours = fitted === null ? Number.NaN : fittings.lifeHoursAt(component, fitted);
  if (run.removedOn !== null) {
    const refitted = fitted !== null && fitted.installedOn >= run.removedOn && fittedHours <= first.hours;
    const fromDay = refitted ? fitted.installedOn : run.removedOn;
    const startedAtNothing = refitted
      ? fittedHours <= SAME_HOURS
      : couldHaveFlown(first, fromDay, hoursPerDay);
    if (startedAtNothing) {
      const day = Math.max(recordsBegin, fromDay, Math.min(fromNewDay, first.day));
      return { entryHours: 0, observedFromHours: 0, fromDay: day };
    }
    if (refitted) return watchedFrom(fittedHours, fromDay);
  }
  if (run.start !== "unknown") {
    // Hours fell to more than nothing: what this piece was before its first look is not known.
    const entryHours = firstLookIsOver ? Math.max(0, first.hours - lookIntervalH) : first.hours;
    return { entryHours, observedFromHours: first.hours, fromDay: first.day };
  }
  if (fitted !== null && fittedHours <= first.hours) {
    if (fitted.installedOn >= recordsBegin) return watchedFrom(fittedHours, fitted.installedOn);
    const flown = (recordsBegin - fitted.installedOn) / (first.day - fitted.installedOn);
    return watchedFrom(fittedHours + (first.hours - fittedHours) * flown, recordsBegin);
  }
  if (fromNewDay >= recordsBegin) return { entryHours: 0, observedFromHours: 0, fromDay: fromNewDay };
  const hoursThatDay = first.hours - (first.day - recordsBegin) * hoursPerDay;
  return watchedFrom(Math.max(0, hoursThatDay), recordsBegin);
}

/**
 * Hours at its last look before it was watched: one interval before its first look since, for looks follow each other by
 * about an interval; at the latest where watching began. To take a look as early as one interval before watching began
 * would count hours in which nobody could have been found, as if they had been survived, and make lives look long.
 */
function lastLookBefore(watchedFromHours: number, firstLookHours: number, lookIntervalH: number): number {
  const hours = Math.min(watchedFromHours, Math.max(0, firstLookHours - lookIntervalH));
  return hours <= FIRST_LOOK_LATE * lookIntervalH ? 0 : hours;
}

/** Components fly unevenly; at more than this many times its usual pace a clock didn't start at nothing that day. */
const FASTEST = 3;
/** A first look may be this much of an interval late and still be the first since new: nobody looks at a few hours. */
const FIRST_LOOK_LATE = 0.1;

const couldHaveFlown = (
  first: { readonly day: Day; readonly hours: number },
  since: Day,
  hoursPerDay: number,
) => first.hours <= FASTEST * hoursPerDay * (first.day - since + 1);
