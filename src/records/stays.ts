/** Where each component was and when: stays at one place (aircraft and position) from looks, removals and the roster. */
import type { Day } from "../units.ts";
import type { ReadExports } from "./exports.ts";
import type { FittingIndex } from "./fittings.ts";
import { type History, histories } from "./history.ts";

/** Hours on the component's clock on a day on which it was at the place. */
interface Moment {
  readonly day: Day;
  readonly hours: number;
}

export interface Stay {
  readonly component: number;
  readonly part: number;
  /** First and last day on which it was there; both can be shared with the component before and after. */
  readonly fromDay: Day;
  readonly toDay: Day;
  /** At least one, by day. */
  readonly moments: readonly [Moment, ...Moment[]];
  /** False where it was first met at a look: it may have been there since the one before it was taken off. */
  readonly startKnown: boolean;
  readonly removedAtEnd: boolean;
}

/** Aircraft and position as one key. */
export const placeOf = (aircraft: string, position: string): string => JSON.stringify([aircraft, position]);

interface Entry extends Moment {
  readonly place: string;
  readonly kind: "fitted" | "seen" | "removed";
}

/** Stays by place, each place's by first day. A component is taken to stay where two records in a row have it. */
export function staysByPlace(
  exports: ReadExports,
  asOf: Day,
  fittings: FittingIndex,
  airframeClock: boolean,
): ReadonlyMap<string, readonly Stay[]> {
  const byPlace = new Map<string, Stay[]>();
  for (const history of histories(exports, asOf, fittings, airframeClock)) {
    for (const [place, stay] of staysOf(history, fittings, asOf)) {
      const known = byPlace.get(place);
      if (known) known.push(stay);
      else byPlace.set(place, [stay]);
    }
  }
  for (const stays of byPlace.values()) {
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

function staysOf({ component, part, events }: History, fittings: FittingIndex, asOf: Day): [string, Stay][] {
  const entries: Entry[] = events
    .filter(({ hours }) => !Number.isNaN(hours))
    .map((event) => ({
      day: event.day,
      hours: event.hours,
      place: placeOf(event.aircraft, event.position),
      kind: event.kind === "look" ? "seen" : "removed",
    }));
  for (const fitting of fittings.of(component)) {
    const hours = fittings.lifeHoursAt(component, fitting);
    if (Number.isNaN(hours)) continue;
    const place = placeOf(fitting.aircraft, fitting.position);
    entries.push({ day: fitting.installedOn, hours, place, kind: "fitted" });
  }
  // On one day a removal comes before a fitting, a look before both.
  const rank = { seen: 0, removed: 1, fitted: 2 } as const;
  entries.sort((a, b) => a.day - b.day || rank[a.kind] - rank[b.kind] || a.hours - b.hours);
  const stays: [string, Stay][] = [];
  let open: Entry[] = [];
  const close = (toDay: Day, removedAtEnd: boolean) => {
    const [first, ...rest] = open;
    if (first !== undefined) {
      const startKnown = first.kind === "fitted";
      const moments = [first, ...rest] as const;
      stays.push([
        first.place,
        { component, part, fromDay: first.day, toDay, moments: [...moments], startKnown, removedAtEnd },
      ]);
    }
    open = [];
  };
  for (const entry of entries) {
    const last = open.at(-1);
    if (last !== undefined && (last.place !== entry.place || entry.hours < last.hours - 1))
      close(last.day, false);
    open.push(entry);
    if (entry.kind === "removed") close(entry.day, true);
  }
  close(asOf, false);
  return stays;
}
