/**
 * Hours flown with the seal in and out of tolerance. Between a gap as left and the next as found nobody looked: where one
 * is in tolerance and the other isn't, the crossing is placed three ways.
 */

/** Where between two looks a gap left its tolerance: by a straight line, at once, or only just before it was found. */
export type Crossing = "straight" | "at once" | "at the end";

export const CROSSINGS: readonly Crossing[] = ["straight", "at once", "at the end"];

/** The time between two looks at one component's seal, on the component's clock. */
export interface SealPeriod {
  readonly component: number;
  /** Place in the list of environments. */
  readonly environment: number;
  readonly fromHours: number;
  readonly toHours: number;
  /** Gap as left at `fromHours` and as found at `toHours`; null where it was not recorded. */
  readonly gapLeftMm: number | null;
  readonly gapFoundMm: number | null;
  readonly toleranceMm: readonly [number, number];
}

export interface SealHours {
  readonly inTolerance: number;
  readonly outOfTolerance: number;
  readonly notKnown: number;
}

/** Hours of one period up to `untilHours`, by state of the seal. */
export function sealHours(period: SealPeriod, crossing: Crossing, untilHours = period.toHours): SealHours {
  const { fromHours, toHours, gapLeftMm, gapFoundMm } = period;
  const until = Math.max(fromHours, Math.min(toHours, untilHours));
  const flown = until - fromHours;
  if (gapLeftMm === null || gapFoundMm === null) {
    return { inTolerance: 0, outOfTolerance: 0, notKnown: flown };
  }
  const leftIn = within(gapLeftMm, period.toleranceMm);
  const foundIn = within(gapFoundMm, period.toleranceMm);
  if (leftIn === foundIn) {
    return { inTolerance: leftIn ? flown : 0, outOfTolerance: leftIn ? 0 : flown, notKnown: 0 };
  }
  const first = fromHours + changeAt(period, leftIn, crossing) * (toHours - fromHours);
  const before = Math.min(until, first) - fromHours;
  const after = flown - before;
  return leftIn
    ? { inTolerance: before, outOfTolerance: after, notKnown: 0 }
    : { inTolerance: after, outOfTolerance: before, notKnown: 0 };
}

const within = (gap: number, [low, high]: readonly [number, number]): boolean => gap >= low && gap <= high;

/** The share of the period flown in the state as left. "At once" is out of tolerance throughout, "at the end" in. */
function changeAt(period: SealPeriod, leftIn: boolean, crossing: Crossing): number {
  if (crossing === "at once") return leftIn ? 0 : 1;
  if (crossing === "at the end") return leftIn ? 1 : 0;
  const from = period.gapLeftMm!;
  const to = period.gapFoundMm!;
  const outside = leftIn ? to : from;
  const limit = outside > period.toleranceMm[1] ? period.toleranceMm[1] : period.toleranceMm[0];
  return Math.min(1, Math.max(0, (limit - from) / (to - from)));
}
