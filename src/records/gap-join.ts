/**
 * Gap readings joined to components. A reading by aircraft and position belongs to whichever component was there that
 * day; where more than one was (two parts behind one seal, or one taken off and another fitted), the hours recorded with
 * the gap decide, then whether it is as found (the one that leaves) or as left (the one that comes). What can't be decided
 * is joined to none, and counted.
 */

import type { Day } from "../units.ts";
import { GAP_STATE, type GapRows, type ReadExports, wordAt } from "./exports.ts";
import { type FittingIndex, indexFittings } from "./fittings.ts";
import { SAME_HOURS } from "./same-hours.ts";
import { PlaceNumbers, type Stay, staysByPlace } from "./stays.ts";

export interface JoinedGap {
  /** Row of the gap export. */
  readonly row: number;
  readonly component: number;
  readonly day: Day;
  /** On the component's clock. */
  readonly hours: number;
  readonly gapMm: number;
  readonly state: "found" | "left";
}

export type NotJoined =
  | "no component was there that day, as far as the records say"
  | "several components were there, and nothing tells them apart"
  | "its hours fit no component that was there"
  | "its component's hours that day are not known"
  | "it does not say whether as found or as left";

export interface GapJoin {
  /** In order of component, hours, and found before left. */
  readonly joined: readonly JoinedGap[];
  /** Rows up to the as-of day that joined none, by reason. */
  readonly notJoined: ReadonlyMap<NotJoined, number>;
}

export interface GapJoinSettings {
  readonly asOf: Day;
  /** True where the wear export counts airframe hours. */
  readonly airframeClock: boolean;
  /** True where the gap export counts hours on the same clock as the wear export. */
  readonly sameClock: boolean;
}

export function joinGaps(exports: ReadExports, settings: GapJoinSettings): GapJoin {
  const { gaps } = exports;
  const joined: JoinedGap[] = [];
  const notJoined = new Map<NotJoined, number>();
  if (gaps === null) return { joined, notJoined };
  const { asOf, airframeClock, sameClock } = settings;
  const fittings = indexFittings(exports, asOf, airframeClock);
  const staysFor = stayFinder(gaps, exports, fittings, settings);
  const recorded = (row: number, { component }: Stay): number => {
    const hours = sameClock ? gaps.hours[row]! : Number.NaN;
    if (!airframeClock) return hours;
    const aircraft = wordAt(gaps.aircraft, row) ?? "";
    return fittings.sinceFitted(component, {
      day: gaps.day[row]!,
      airframeHours: hours,
      aircraft,
      isRemoval: false,
    });
  };
  for (let row = 0; row < gaps.rows; row++) {
    const day = gaps.day[row]!;
    if (day > asOf || Number.isNaN(gaps.gapMm[row]!)) continue;
    const there = staysFor(row).filter((s) => s.fromDay <= day && day <= s.toDay);
    const found = decide(gaps, row, there, (stay) => recorded(row, stay));
    if (typeof found === "string") notJoined.set(found, (notJoined.get(found) ?? 0) + 1);
    else joined.push(found);
  }
  joined.sort(
    (a, b) =>
      a.component - b.component ||
      a.day - b.day ||
      a.hours - b.hours ||
      (a.state === b.state ? a.row - b.row : a.state === "found" ? -1 : 1),
  );
  return { joined, notJoined };
}

/** Stays at the place that a gap row names, or of the component where it names one. */
function stayFinder(
  gaps: GapRows,
  exports: ReadExports,
  fittings: FittingIndex,
  { asOf, airframeClock }: GapJoinSettings,
): (row: number) => readonly Stay[] {
  const places = new PlaceNumbers();
  const placeOf = (row: number) =>
    places.of(wordAt(gaps.aircraft, row) ?? "", wordAt(gaps.position, row) ?? "");
  const namesComponents = gaps.component.some((component) => component >= 0);
  for (let row = 0; row < gaps.rows; row++) placeOf(row);
  const wanted = namesComponents ? Number.POSITIVE_INFINITY : places.count;
  const byPlace = staysByPlace(exports, asOf, fittings, airframeClock, { places, wanted });
  const byComponent = new Map<number, Stay[]>();
  if (namesComponents) {
    for (const stay of byPlace.flat()) {
      const known = byComponent.get(stay.component);
      if (known) known.push(stay);
      else byComponent.set(stay.component, [stay]);
    }
  }
  return (row) => {
    const component = gaps.component[row]!;
    if (component >= 0) return byComponent.get(component) ?? [];
    return byPlace[placeOf(row)] ?? [];
  };
}

function decide(
  gaps: GapRows,
  row: number,
  there: readonly Stay[],
  recordedHours: (stay: Stay) => number,
): JoinedGap | NotJoined {
  const stateCode = gaps.state[row]!;
  if (stateCode === GAP_STATE.unknown) return "it does not say whether as found or as left";
  const state = stateCode === GAP_STATE.found ? "found" : "left";
  if (there.length === 0) return "no component was there that day, as far as the records say";
  const day = gaps.day[row]!;
  const placed = there.flatMap((stay) => {
    const hours = hoursOn(stay, day, recordedHours(stay));
    return hours === null ? [] : [{ stay, ...hours }];
  });
  if (placed.length === 0) {
    return there.some((stay) => !Number.isNaN(recordedHours(stay)))
      ? "its hours fit no component that was there"
      : "its component's hours that day are not known";
  }
  const onTheDay = placed.filter(({ exact }) => exact);
  let left = onTheDay.length > 0 ? onTheDay : placed;
  if (left.length > 1) {
    const changing = left.filter(({ stay }) =>
      state === "found" ? stay.removedAtEnd && stay.toDay === day : stay.fromDay === day,
    );
    if (changing.length > 0) left = changing;
  }
  if (left.length > 1) return "several components were there, and nothing tells them apart";
  const { stay, hours } = left[0]!;
  return { row, component: stay.component, day, hours, gapMm: gaps.gapMm[row]!, state };
}

/**
 * Hours of a component on a day: those recorded, where they fit its own looks before and after; without a record, on the
 * line between these. `exact`: it has a record of its own that day which agrees. null: they don't fit, or can't be known.
 */
function hoursOn(stay: Stay, day: Day, recorded: number): { hours: number; exact: boolean } | null {
  const { days, hours } = stay;
  const before = days.findLastIndex((known) => known <= day);
  const after = days.findIndex((known) => known >= day);
  if (Number.isNaN(recorded)) {
    if (before < 0 || after < 0) return null;
    if (days[before] === days[after]) return { hours: hours[before]!, exact: true };
    const share = (day - days[before]!) / (days[after]! - days[before]!);
    return { hours: hours[before]! + share * (hours[after]! - hours[before]!), exact: false };
  }
  const low = before < 0 ? 0 : hours[before]!;
  const high = after < 0 ? hours[before]! + 24 * (day - days[before]! + 1) : hours[after]!;
  if (recorded < low - SAME_HOURS || recorded > high + SAME_HOURS) return null;
  const exact = days.some((known, at) => known === day && Math.abs(hours[at]! - recorded) <= SAME_HOURS);
  return { hours: recorded, exact };
}
