/** A root, or why there is none in the bracket. */
export type Root = { kind: "found"; at: number } | { kind: "no-sign-change"; atLow: number; atHigh: number };

/**
 * Root of a continuous function of one variable between `low` and `high`, by bisection with secant steps
 * (the Illinois variant of regula falsi, which keeps the bracket).
 *
 * @param relativeTolerance  stops when the bracket is this small relative to its middle
 * @returns the root, or "no-sign-change" where both ends have the same sign
 * Source: Dowell and Jarratt (1971), A modified regula falsi method, BIT 11, 168-174.
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  relativeTolerance = 1e-12,
): Root {
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return { kind: "found", at: a };
  if (fb === 0) return { kind: "found", at: b };
  if (Number.isNaN(fa) || Number.isNaN(fb) || fa > 0 === fb > 0) {
    return { kind: "no-sign-change", atLow: fa, atHigh: fb };
  }
  let side = 0;
  for (let i = 0; i < 200; i++) {
    // Every third step halves the bracket, so that a badly scaled function still ends.
    const secant = (fa * b - fb * a) / (fa - fb);
    const inside = Number.isFinite(secant) && secant > Math.min(a, b) && secant < Math.max(a, b);
    const x = i % 3 === 2 || !inside ? (a + b) / 2 : secant;
    const fx = f(x);
    if (fx === 0 || Math.abs(b - a) <= relativeTolerance * Math.max(Math.abs(x), 1e-300)) {
      return { kind: "found", at: x };
    }
    if (fx > 0 === fb > 0) {
      b = x;
      fb = fx;
      if (side === -1) fa /= 2;
      side = -1;
    } else {
      a = x;
      fa = fx;
      if (side === 1) fb /= 2;
      side = 1;
    }
  }
  return { kind: "found", at: (a + b) / 2 };
}
