/** Hours that one component has left to the limit, by its own readings together with its group's rates. */
import { findRoot } from "../math/find-root.ts";
import { type ComponentPosterior, chanceOver, componentPosterior } from "./component-posterior.ts";
import type { ComponentSums } from "./component-sums.ts";
import type { RateParameters } from "./rate-families.ts";

/**
 * Hours from its last look until its wear (not a reading of it) is at the limit: median and bounds; 0 where it was past it
 * at that look already. What was flown since is not taken off.
 */
export interface HoursLeft {
  readonly medianHours: number;
  readonly lowerHours: number;
  readonly upperHours: number;
}

export interface LookedAt {
  /** Its own hours at its last look. */
  readonly lookedAtHours: number;
  readonly limitMm: number;
  /** Two-sided. __Default value:__ 0.90 */
  readonly confidence?: number;
}

/** Hours left of component i (its place in the sums). */
export function hoursLeft(
  sums: ComponentSums,
  i: number,
  parameters: RateParameters,
  { lookedAtHours, limitMm, confidence = 0.9 }: LookedAt,
): HoursLeft {
  const posterior = componentPosterior(sums, i, parameters);
  const side = (1 - confidence) / 2;
  const hoursWith = (chance: number) => hoursUntil(posterior, chance, lookedAtHours, limitMm);
  return { medianHours: hoursWith(0.5), lowerHours: hoursWith(side), upperHours: hoursWith(1 - side) };
}

/** Hours from the last look until the chance that the wear is over the limit has come to a level; 0 where it is there. */
function hoursUntil(
  posterior: ComponentPosterior,
  level: number,
  lookedAtHours: number,
  limitMm: number,
): number {
  const beyond = (hours: number) => chanceOver(posterior, hours, limitMm, false) - level;
  if (beyond(lookedAtHours) >= 0) return 0;
  const guess = Math.max(hoursOfRates(posterior, level, limitMm), lookedAtHours * (1 + 1e-6), 1);
  const root = bySecants(beyond, guess) ?? byHalving(beyond, lookedAtHours, guess);
  return Math.max(0, root - lookedAtHours);
}

const ROOT_PRECISION = 1e-10;
const MOST_SECANTS = 8;
/** First step, as a share of the guess. */
const FIRST_STEP = 1e-3;

/** The root by secants from a good guess; null where they don't come to one at once. */
function bySecants(f: (x: number) => number, guess: number): number | null {
  let before = guess * (1 - FIRST_STEP);
  let at = guess;
  let fBefore = f(before);
  let fAt = f(at);
  for (let step = 0; step < MOST_SECANTS; step++) {
    const next = at - (fAt * (at - before)) / (fAt - fBefore);
    if (!(Math.abs(next - guess) < 0.2 * guess)) return null;
    if (Math.abs(next - at) < ROOT_PRECISION * guess) return next;
    before = at;
    fBefore = fAt;
    at = next;
    fAt = f(at);
  }
  return null;
}

/** Farthest that a root is looked for, as a multiple of the guess. */
const FARTHEST = 1e6;

/** The root of a rising function that is below zero at `from`, about a guess that may be far off. */
function byHalving(f: (x: number) => number, from: number, guess: number): number {
  let low = guess;
  let high = guess;
  for (let share = 0.02; low > from && f(low) >= 0; share *= 2) low = Math.max(from, guess * (1 - share));
  for (let share = 0.02; f(high) < 0; share *= 2) {
    if (share > FARTHEST) return high;
    high = guess * (1 + share);
  }
  const root = findRoot(f, low, high, ROOT_PRECISION);
  return root.kind === "found" ? root.at : high;
}

/** Hours by which the lines of a share of the rates, the fastest first, are at the limit: half of each rate's own share before it. */
function hoursOfRates(
  { rates, weights, interceptMm }: ComponentPosterior,
  share: number,
  limitMm: number,
): number {
  const hoursOf = (k: number) => (1000 * (limitMm - interceptMm[k]!)) / rates[k]!;
  let faster = 0;
  let k = rates.length - 1;
  while (k > 0 && faster + weights[k]! / 2 < share) faster += weights[k--]!;
  if (k === rates.length - 1) return hoursOf(k);
  // Between this rate and the faster one before.
  const own = faster + weights[k]! / 2;
  const before = faster - weights[k + 1]! / 2;
  const way = Math.min(1, (share - before) / (own - before));
  return hoursOf(k + 1) + way * (hoursOf(k) - hoursOf(k + 1));
}
