/** Where each component was and when: stays at one place (aircraft and position) from looks, removals and the roster. */
import type { Day } from "../units.ts";
import type { ReadExports } from "./exports.ts";
import type { FittingIndex } from "./fittings.ts";
import { type History, histories } from "./history.ts";

export interface Stay {
  readonly component: number;
  readonly part: number;
  /** By PlaceNumbers. */
  readonly place: number;
  /** First and last day on which it was there; both can be shared with the component before and after. */
  readonly fromDay: Day;
  readonly toDay: Day;
  /** Days on which it is known to have been there, at least one, in order, and hours on its clock on each. */
  readonly days: readonly Day[];
  readonly hours: readonly number[];
  /** False where it was first met at a look: it may have been there since the one before it was taken off. */
  readonly startKnown: boolean;
  readonly removedAtEnd: boolean;
}

/** Places, each an aircraft and a position, numbered as they are named. */
export class PlaceNumbers {
  readonly #known = new Map<string, Map<string, number>>();
  count = 0;
  // Rows of one place mostly come one after the other.
  #last = { aircraft: "", position: "", number: -1 };

  /** The number of a place, which it is given here where it has none. */
  of(aircraft: string, position: string): number {
    const last = this.#last;
    if (last.number >= 0 && last.aircraft === aircraft && last.position === position) return last.number;
    const number = this.#find(aircraft, position);
    this.#last = { aircraft, position, number };
    return number;
  }

  #find(aircraft: string, position: string): number {
    let ofAircraft = this.#known.get(aircraft);
    if (ofAircraft === undefined) {
      ofAircraft = new Map();
      this.#known.set(aircraft, ofAircraft);
    }
    let number = ofAircraft.get(position);
    if (number === undefined) {
      number = this.count++;
      ofAircraft.set(position, number);
    }
    return number;
  }
}

/** The component at a place on a day, and hours on its clock then. */
interface Entry {
  readonly day: Day;
  readonly hours: number;
  readonly place: number;
  readonly kind: "fitted" | "seen" | "removed";
}

/**
 * Stays by place number, each place's by first day. A component is taken to stay where two records in a row have it.
 *
 * @param wanted  only places with a number below this are asked about
 */
export function staysByPlace(
  exports: ReadExports,
  asOf: Day,
  fittings: FittingIndex,
  airframeClock: boolean,
  { places, wanted }: { readonly places: PlaceNumbers; readonly wanted: number },
): readonly (readonly Stay[])[] {
  const byPlace: Stay[][] = [];
  for (const history of histories(exports, asOf, fittings, airframeClock)) {
    for (const stay of staysOf(history, fittings, asOf, places)) {
      if (stay.place >= wanted) continue;
      while (byPlace.length < places.count) byPlace.push([]);
      byPlace[stay.place]!.push(stay);
    }
  }
  while (byPlace.length < places.count) byPlace.push([]);
  for (const stays of byPlace) {
    stays.sort((a, b) => a.fromDay - b.fromDay || a.component - b.component);
    for (const [k, stay] of stays.entries()) if (!stay.startKnown) stays[k] = sinceVacant(stay, stays);
  }
  return byPlace;
}

/** A component first met at a look was there since its part's last known removal from the place, where there is one. */
function sinceVacant(stay: Stay, stays: readonly Stay[]): Stay {
  let vacant: Day | null = null;
  for (const other of stays) {
    if (other.part !== stay.part || !other.removedAtEnd || other.toDay > stay.fromDay) continue;
    if (other.component === stay.component && other.fromDay === stay.fromDay) continue;
    if (vacant === null || other.toDay > vacant) vacant = other.toDay;
  }
  return vacant === null ? stay : { ...stay, fromDay: vacant };
}

/** On one day a removal comes before a fitting, a look before both. */
const RANK = { seen: 0, removed: 1, fitted: 2 } as const;

function entriesOf({ component, events }: History, fittings: FittingIndex, places: PlaceNumbers): Entry[] {
  const entries: Entry[] = [];
  for (const { day, hours, aircraft, position, kind } of events)
    if (!Number.isNaN(hours))
      entries.push({
        day,
        hours,
        place: places.of(aircraft, position),
        kind: kind === "look" ? "seen" : "removed",
      });
  for (const fitting of fittings.of(component)) {
    const hours = fittings.lifeHoursAt(component, fitting);
    if (Number.isNaN(hours)) continue;
    const place = places.of(fitting.aircraft, fitting.position);
    entries.push({ day: fitting.installedOn, hours, place, kind: "fitted" });
  }
  return entries.sort((a, b) => a.day - b.day || RANK[a.kind] - RANK[b.kind] || a.hours - b.hours);
}

/** Days and hours of a stay while they are gathered. */
interface OpenStay {
  readonly place: number;
  readonly startKnown: boolean;
  readonly days: Day[];
  readonly hours: number[];
}

function staysOf(history: History, fittings: FittingIndex, asOf: Day, places: PlaceNumbers): Stay[] {
  const { component, part } = history;
  const stays: Stay[] = [];
  const close = (open: OpenStay, toDay: Day, removedAtEnd: boolean) =>
    stays.push({ component, part, ...open, fromDay: open.days[0]!, toDay, removedAtEnd });
  let open: OpenStay | null = null;
  for (const { day, hours, place, kind } of entriesOf(history, fittings, places)) {
    if (open !== null && (open.place !== place || hours < open.hours.at(-1)! - 1)) {
      close(open, open.days.at(-1)!, false);
      open = null;
    }
    open ??= { place, startKnown: kind === "fitted", days: [], hours: [] };
    open.days.push(day);
    open.hours.push(hours);
    if (kind === "removed") {
      close(open, day, true);
      open = null;
    }
  }
  if (open !== null) close(open, asOf, false);
  return stays;
}
