/** Rays from the optimum to where the true likelihood has fallen to a threshold. */
import type { RateFit } from "./decision-fit.ts";
import type { Geometry } from "./region-geometry.ts";

/** A direction from the optimum, and how far along it the log-likelihood has dropped to the threshold. */
export interface Ray {
  readonly direction: Float64Array;
  /** Distance in standard deviations at which √(2·drop) reaches √threshold, and how that grows with the distance. */
  readonly distance: number;
  readonly bend: number;
}

/** The parameters at a distance along a direction. */
export function thetaAt(
  fit: RateFit,
  { factor }: Geometry,
  direction: Float64Array,
  distance: number,
): Float64Array {
  const theta = Float64Array.from(fit.theta);
  for (let i = 0; i < theta.length; i++) {
    for (let j = 0; j <= i; j++) theta[i]! += factor.get(i, j) * direction[j]! * distance;
  }
  return theta;
}

/** Follows a direction until √(2·drop) is `root`, to 3 % and then in proportion; steps are proportional, with a bend kept from the last two. */
export function castRay(
  fit: RateFit,
  geometry: Geometry,
  direction: Float64Array,
  root: number,
  start = root,
): Ray {
  const dropAt = (distance: number) => {
    const value = fit.likelihood.value(thetaAt(fit, geometry, direction, distance));
    return Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - value)));
  };
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let distance = start;
  let bend = 0;
  let last: { distance: number; drop: number } | null = null;
  for (let step = 0; step < 12; step++) {
    const drop = dropAt(distance);
    // drop/distance = slope + bend·distance, from this point and the one before.
    if (last !== null && last.distance !== distance && Number.isFinite(drop) && Number.isFinite(last.drop)) {
      bend = (drop / distance - last.drop / last.distance) / (distance - last.distance);
    }
    if (Math.abs(drop - root) < 0.03 * root) return { direction, distance: (distance * root) / drop, bend };
    if (drop < root) low = distance;
    else high = distance;
    last = { distance, drop };
    const next = Number.isFinite(drop) && drop > 0.05 * root ? (distance * root) / drop : Number.NaN;
    const usable = next > low && next < high && next < 4 * distance;
    distance = usable ? next : Number.isFinite(high) ? (low + high) / 2 : 2 * distance;
  }
  // Flat this far out, or a cliff: the last point known to be inside stands for the edge.
  return { direction, distance: low > 0 ? low : high / 2, bend: 0 };
}

/** Where √(2·drop) has grown by `factor` beyond the threshold: slope·x + bend·x² = factor·root. */
export function stretched(ray: Ray, root: number, factor: number): number {
  if (factor === 1) return ray.distance;
  const slope = root / ray.distance - ray.bend * ray.distance;
  const target = factor * root;
  const discriminant = slope * slope + 4 * ray.bend * target;
  // A bend that would never get there is taken as none.
  if (!(slope > 0) || Math.abs(ray.bend) < 1e-9 || discriminant < 0) return ray.distance * factor;
  const distance = (2 * target) / (slope + Math.sqrt(discriminant));
  return Math.min(Math.max(distance, ray.distance * Math.sqrt(factor)), ray.distance * factor * factor);
}

/** The sampled ray that points most nearly in a direction: it says about how far the region goes there. */
export function nearest(rays: readonly Ray[], direction: Float64Array): Ray {
  let best = rays[0]!;
  let most = Number.NEGATIVE_INFINITY;
  for (const ray of rays) {
    let along = 0;
    for (let k = 0; k < direction.length; k++) along += ray.direction[k]! * direction[k]!;
    if (along > most) {
      most = along;
      best = ray;
    }
  }
  return best;
}
