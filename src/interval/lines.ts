/**
 * The two lines of evidence as the decision sees them: a survival curve (below the replace-at limit) whose uncertainty
 * can be carried to any quantity of it. Bounds are one-sided at the stated confidence, each side by itself.
 */
import type { UpTo } from "../wear/likelihood-region.ts";
import type { Bounded } from "./month-result.ts";

/** The chance of being below the limit at some hours. Who has their logarithm already gives it too, and saves taking it. */
export type Survival = (hours: number, logHours?: number) => number;

export type SurvivalQuantity = (survival: Survival) => number;

export type BoundSide = "both" | "upper" | UpTo;

export interface SurvivalLine {
  readonly method: "life" | "wear";
  /** What the line stands on, in words. */
  readonly standsOn: string;
  /** With its bounds, or only with the upper one, or as much of that as is needed (the lower is then null): far less work. */
  readonly bounded: (quantity: SurvivalQuantity, side?: BoundSide) => Bounded;
  /** The best estimate alone: next to no work. */
  readonly estimated: (quantity: SurvivalQuantity) => number;
}

/** Computes once for each argument. */
export function remembered<K, V>(compute: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return (key) => {
    if (!known.has(key)) known.set(key, compute(key));
    return known.get(key)!;
  };
}

/** Fewest lives and aircraft for an upper bound: below, a bound would rest on one machine's luck. */
export const FEWEST_LIVES = 10;
export const FEWEST_AIRCRAFT = 3;
