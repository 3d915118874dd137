/** The unsafe risk by exposure: per look made, and per 1000 flight hours of one component. */
import type { UnsafeRates } from "./choices-result.ts";
import type { Bounded } from "./month-result.ts";

/**
 * Of the looks made, the share `overLimit` finds a component that has reached the limit; of those components the share
 * `unsafe` passed the unsafe-at limit before a look saw it. So per look it is the product, and with a look every
 * `intervalH` hours 1000/intervalH times that per 1000 hours. Upper bounds are multiplied as well: with each at confidence C
 * the product holds at 2C − 1 or more, whatever their dependence.
 */
export function unsafeRates(
  unsafe: Bounded | null,
  overLimit: Bounded | null,
  intervalH: number,
): UnsafeRates | null {
  if (unsafe === null || overLimit === null) return null;
  const perLook = times(unsafe, overLimit);
  return { perLook, per1000H: scaled(perLook, 1000 / intervalH) };
}

const both = (a: number | null, b: number | null): number | null => (a === null || b === null ? null : a * b);

const times = (a: Bounded, b: Bounded): Bounded => ({
  estimate: a.estimate * b.estimate,
  lower: both(a.lower, b.lower),
  upper: both(a.upper, b.upper),
});

const scaled = ({ estimate, lower, upper }: Bounded, factor: number): Bounded => ({
  estimate: estimate * factor,
  lower: both(lower, factor),
  upper: both(upper, factor),
});
