import { findRoot } from "../math/find-root.ts";

/** Hours taken as "never": no rotor part flies so long. */
export const NEVER_H = 1e6;

/** Hours by which a share of components is over the limit; 1e6 where the curve does not fall so far. */
export function hoursAtShare(survival: (hours: number) => number, share: number): number {
  const below = (hours: number) => survival(hours) - (1 - share);
  if (below(1) <= 0) return 0;
  let high = 1000;
  while (below(high) > 0) {
    if (high >= NEVER_H) return NEVER_H;
    high *= 4;
  }
  const root = findRoot(below, high === 1000 ? 1 : high / 4, high, 1e-6);
  return root.kind === "found" ? root.at : NEVER_H;
}
