/** Rays from the optimum to where the true likelihood has fallen to a threshold. */
import type { RateFit } from "./decision-fit.ts";
import type { Geometry } from "./region-geometry.ts";

/** How √(2·drop) of the log-likelihood grows with the distance x in standard deviations: x·(1 + bend·x + twist·x²). */
export interface Growth {
  readonly bend: number;
  readonly twist: number;
}

/** As for a normal likelihood. */
export const STRAIGHT: Growth = { bend: 0, twist: 0 };

/** A direction from the optimum, and how far along it √(2·drop) has grown to √threshold. */
export interface Ray extends Growth {
  readonly direction: Float64Array;
  readonly distance: number;
}

/** The parameters at a distance along a direction. */
export function thetaAt(
  fit: RateFit,
  { factor }: Geometry,
  direction: Float64Array,
  distance: number,
): Float64Array {
  const theta = fit.theta.slice();
  for (let i = 0; i < theta.length; i++) {
    for (let j = 0; j <= i; j++) theta[i]! += factor.get(i, j) * direction[j]! * distance;
  }
  return theta;
}

/** So near the root, its growth through the last points says where it is: mostly to 1e-6, hardly ever worse than 1e-3. */
const NEAR = 0.01;
const MOST_POINTS = 16;

/**
 * Follows a direction until √(2·drop) is `root`.
 *
 * @param growth  how it is thought to grow: what one point leaves open
 * @param start   where to look first. __Default value:__ where that says
 */
export function castRay(
  fit: RateFit,
  geometry: Geometry,
  direction: Float64Array,
  root: number,
  growth: Growth = STRAIGHT,
  start: number = distanceAt(growth, root, root),
): Ray {
  const dropAt = (distance: number) => {
    const value = fit.likelihood.value(thetaAt(fit, geometry, direction, distance));
    return Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - value)));
  };
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let { bend, twist } = growth;
  let distance = start;
  let last: { readonly distance: number; readonly excess: number } | null = null;
  for (let point = 0; point < MOST_POINTS; point++) {
    const drop = dropAt(distance);
    let next = Number.NaN;
    if (Number.isFinite(drop) && drop > 0.05 * root) {
      const excess = (drop / distance - 1) / distance;
      if (last !== null) twist = (excess - last.excess) / (distance - last.distance);
      bend = excess - twist * distance;
      next = distanceAt({ bend, twist }, root, (distance * root) / drop);
      if (Math.abs(drop - root) < NEAR * root) return { direction, distance: next, bend, twist };
      last = { distance, excess };
    }
    if (drop < root) low = distance;
    else high = distance;
    const usable = next > low && next < high && next < 4 * distance;
    distance = usable ? next : Number.isFinite(high) ? (low + high) / 2 : 2 * distance;
  }
  // Flat this far out, or a cliff: the last point known to be inside stands for the edge.
  const edge = low > 0 ? low : high / 2;
  return { direction, distance: edge, bend: (root / edge - 1) / edge, twist: 0 };
}

/** The distance at which √(2·drop) is `root` by its growth, near a first guess; the guess where it doesn't grow so far. */
function distanceAt({ bend, twist }: Growth, root: number, guess: number): number {
  let x = guess;
  for (let step = 0; step < 20; step++) {
    const slope = 1 + x * (2 * bend + 3 * twist * x);
    const move = (x * (1 + x * (bend + twist * x)) - root) / slope;
    x -= move;
    if (!(slope > 0 && x > guess / 4 && x < 4 * guess)) return guess;
    if (Math.abs(move) < 1e-9 * x) return x;
  }
  return guess;
}

/** Where √(2·drop) has grown by `factor` beyond the threshold. */
export function stretched(ray: Ray, root: number, factor: number): number {
  const { distance } = ray;
  if (factor === 1) return distance;
  const reach = distanceAt(ray, factor * root, factor * distance);
  return Math.min(Math.max(reach, distance * Math.sqrt(factor)), distance * factor * factor);
}

/** Place of the sampled ray that points most nearly in a direction: it says about how far the region goes there. */
export function nearest(rays: readonly Ray[], direction: Float64Array): number {
  let best = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (let place = 0; place < rays.length; place++) {
    const own = rays[place]!.direction;
    let along = 0;
    for (let k = 0; k < direction.length; k++) along += own[k]! * direction[k]!;
    if (along > most) {
      most = along;
      best = place;
    }
  }
  return best;
}
