/** Where and when the simulation stands: one aircraft, at some hours of one month; and the arms of its rotor head. */
import type { Random } from "../math/random.ts";
import type { Day } from "../units.ts";
import type { ComponentState, SealState } from "./component-state.ts";
import type { Flying } from "./flying.ts";
import type { IntervalRule } from "./settings.ts";

export interface Moment {
  readonly aircraft: number;
  readonly month: number;
  readonly environment: string;
  readonly base: string;
  standard: string;
  /** Hours flown this month, of `monthHours`; and the aircraft's hours at the month's start. */
  flown: number;
  readonly monthHours: number;
  readonly hoursBefore: number;
  /** The aircraft's own stream: what happens on one aircraft shifts no draw of another. */
  readonly random: Random;
}

/** One arm: what is fitted, behind which seal, since when. */
export interface Slot {
  readonly position: number;
  component: ComponentState;
  seal: SealState | null;
  fittedDay: Day;
  fittedHours: number;
  /** Aircraft hours at which the component will come off for convenience, or for a seal leak. */
  convenienceAt: number;
  leakAt: number;
}

/** An arm before anything is fitted: the simulation fits something at once. */
export function emptySlot(position: number): Slot {
  const component = {} as ComponentState;
  return { position, component, seal: null, fittedDay: 0, fittedHours: 0, convenienceAt: 0, leakAt: 0 };
}

/** The beginning of a month for an aircraft that has flown `hoursBefore`. */
export function monthBegins(
  flying: Flying,
  aircraft: number,
  month: number,
  hoursBefore: number,
  random: Random,
): Moment {
  const { settings, hours, base, standard, standards } = flying;
  const cell = aircraft * settings.months + month;
  const at = settings.bases[base[cell]!]!;
  return {
    aircraft,
    month,
    environment: at.environment,
    base: at.base,
    standard: standards[standard[cell]!]!,
    flown: 0,
    monthHours: hours[cell]!,
    hoursBefore,
    random,
  };
}

/** The day of a moment: hours are spread evenly over the month. */
export function dayOfMoment(flying: Flying, moment: Moment): Day {
  const start = flying.monthStart[moment.month]!;
  const days = flying.monthStart[moment.month + 1]! - start;
  return start + Math.min(days - 1, Math.floor((moment.flown / moment.monthHours) * days));
}

/** The interval in force here and now: the shortest rule that matches. */
export function intervalInForce(rules: readonly IntervalRule[], moment: Moment): number {
  let shortest = Number.POSITIVE_INFINITY;
  for (const rule of rules) {
    const matches =
      (rule.environment === undefined || rule.environment === moment.environment) &&
      (rule.standard === undefined || rule.standard === moment.standard) &&
      moment.month >= (rule.fromMonth ?? 0) &&
      moment.month < (rule.untilMonth ?? Number.POSITIVE_INFINITY);
    if (matches && rule.intervalHours < shortest) shortest = rule.intervalHours;
  }
  if (shortest === Number.POSITIVE_INFINITY) {
    throw new Error(`no interval is in force for ${moment.environment}, ${moment.standard}`);
  }
  return shortest;
}
