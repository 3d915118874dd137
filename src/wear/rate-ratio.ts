/** One rate over another; a bound that does not exist is null. */
export interface RateRatio {
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Bounds of x/y: the ratios ρ at which x − ρ·y is within t standard errors of zero, found outward from the estimate.
 *
 * Source: Fieller (1954), J. R. Stat. Soc. B 16, 175-185.
 */
export function ratioBounds(
  x: number,
  y: number,
  varianceAt: (ratio: number) => number,
  t: number,
): RateRatio {
  const estimate = x / y;
  if (!(y > 0) || !(x > 0)) return { estimate, lower: null, upper: null };
  const outside = (ratio: number) => (x - ratio * y) ** 2 > t * t * varianceAt(ratio);
  const search = (factor: number) => {
    let inside = 1;
    let beyond = factor;
    for (let k = 0; k < 60 && !outside(estimate * beyond); k++) {
      inside = beyond;
      beyond *= factor;
    }
    if (!outside(estimate * beyond)) return null;
    for (let k = 0; k < 60; k++) {
      const middle = Math.sqrt(inside * beyond);
      if (outside(estimate * middle)) beyond = middle;
      else inside = middle;
    }
    return estimate * Math.sqrt(inside * beyond);
  };
  return { estimate, lower: search(1 / 1.25), upper: search(1.25) };
}
