/**
 * Where a life came under observation. A life under way when the records begin enters late: it counts only given that
 * it got that far, because those that did not are not in the records.
 */
import type { Day } from "../units.ts";
import type { FittingIndex } from "./fittings.ts";
import type { LifeRun } from "./split-lives.ts";

export interface Entry {
  /** Hours at which it counts as known below the limit: its last look before the records, or a lower estimate of it. */
  readonly entryHours: number;
  /** Hours from which it was really watched. */
  readonly observedFromHours: number;
  /** About when its hours in the records begin. */
  readonly fromDay: Day;
}

/**
 * @param recordsBegin        first day of the records
 * @param hoursPerDay         the component's own usage, or the fleet's where it has one look only
 * @param presentIntervalH    one present interval: how long ago its last look may have been where none is recorded
 * @param firstLookIsOver     a first look already over the limit can't be the look it entered by
 */
export function entryOf(
  run: LifeRun,
  component: number,
  fittings: FittingIndex,
  recordsBegin: Day,
  hoursPerDay: number,
  presentIntervalH: number,
  firstLookIsOver: boolean,
): Entry {
  const first = run.looks[0] ?? run.removal!;
  const lastLookBefore = (hours: number) => Math.max(0, hours - presentIntervalH);
  const fromNewDay = Math.round(first.day - first.hours / hoursPerDay);
  const fitted = fittings.at(component, first.day);
  const hours = fitted === null ? Number.NaN : fittings.lifeHoursAt(component, fitted);
  if (run.removedOn !== null) {
    const refitted = fitted !== null && fitted.installedOn >= run.removedOn && hours <= first.hours;
    const fromDay = refitted ? fitted.installedOn : run.removedOn;
    const startedAtNothing = refitted ? hours <= SAME_HOURS : couldHaveFlown(first, fromDay, hoursPerDay);
    if (startedAtNothing) {
      const day = Math.max(recordsBegin, fromDay, Math.min(fromNewDay, first.day));
      return { entryHours: 0, observedFromHours: 0, fromDay: day };
    }
    if (refitted) return { entryHours: lastLookBefore(hours), observedFromHours: hours, fromDay };
  }
  if (run.start !== "unknown") {
    // Hours fell to more than nothing: what this piece was before its first look is not known.
    const entryHours = firstLookIsOver ? lastLookBefore(first.hours) : first.hours;
    return { entryHours, observedFromHours: first.hours, fromDay: first.day };
  }
  if (fitted !== null && fitted.installedOn > recordsBegin && hours <= first.hours) {
    return {
      entryHours: lastLookBefore(hours),
      observedFromHours: hours,
      fromDay: fitted.installedOn,
    };
  }
  if (first.day <= recordsBegin && run.looks.length > 0) {
    const entryHours = firstLookIsOver ? lastLookBefore(first.hours) : first.hours;
    return { entryHours, observedFromHours: first.hours, fromDay: first.day };
  }
  if (fromNewDay >= recordsBegin) return { entryHours: 0, observedFromHours: 0, fromDay: fromNewDay };
  const hoursThatDay = first.hours - (first.day - recordsBegin) * hoursPerDay;
  return {
    entryHours: lastLookBefore(Math.max(0, hoursThatDay)),
    observedFromHours: Math.max(0, hoursThatDay),
    fromDay: recordsBegin,
  };
}

/** Hours may differ by this much between two records of one moment. */
const SAME_HOURS = 1;
/** Components fly unevenly; at more than this many times its usual pace a clock didn't start at nothing that day. */
const FASTEST = 3;

const couldHaveFlown = (
  first: { readonly day: Day; readonly hours: number },
  since: Day,
  hoursPerDay: number,
) => first.hours <= FASTEST * hoursPerDay * (first.day - since + 1);
