/**
 * The two lines of evidence as the decision sees them: a survival curve (below the replace-at limit) whose uncertainty
 * can be carried to any quantity of it. Bounds are one-sided at the stated confidence, each side by itself.
 */
import type { Bounded } from "./month-result.ts";

export type SurvivalQuantity = (survival: (hours: number) => number) => number;

export interface SurvivalLine {
  readonly method: "life" | "wear";
  /** What the line stands on, in words. */
  readonly standsOn: string;
  readonly bounded: (quantity: SurvivalQuantity) => Bounded;
}

/** Fewest lives and aircraft for any bound from lives: below, a bound would rest on one machine's luck. */
export const FEWEST_LIVES = 5;
export const FEWEST_AIRCRAFT = 2;
