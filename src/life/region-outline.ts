/**
 * The outline of a Weibull's likelihood region {2 (l_max - l) <= drop}.
 *
 * At each shape the log-likelihood is concave in alpha, late entry or not, so the region is a stack of slices, one a
 * shape. Its outline is walked by an angle: log shape = middle - half cos(angle), the upper edge of the slice on one half
 * of the turn and the lower on the other, so that the outline is smooth in the angle. Each half is found when it is first
 * asked for, slice after slice, every search beginning where the last one ended.
 */
import { likelihoodSlice, type SlicePoint } from "./likelihood-slice.ts";
import { FARTHEST_LOG_SHAPE, shapeBounds } from "./profile-bounds.ts";
import type { FittedWeibull } from "./weibull-fit.ts";
import { likelihoodAt } from "./weibull-likelihood.ts";

/** Half of a slice at one shape: from the best alpha to one edge. */
export interface Slice {
  readonly angle: number;
  readonly shape: number;
  readonly best: number;
  readonly edge: number;
}

/** The half of the turn on which slices end at their greatest alpha (short lives), or at their least. */
export type Side = 1 | -1;

export interface LikelihoodRegion {
  readonly fit: FittedWeibull;
  readonly drop: number;
  /** Ends of the log shape; where the likelihood sets none, a far one. */
  readonly lowLogShape: number;
  readonly highLogShape: number;
  readonly endless: { readonly low: boolean; readonly high: boolean };
  /** How the best alpha moves with the shape near the estimate. */
  readonly ridge: number;
  /** Slices of one side, in order of the angle; as many on the other. */
  readonly half: (side: Side) => readonly Slice[];
  /** Angle from one slice to the next. */
  readonly stepAngle: number;
}

/** A half slice farther from the best than this has no edge. */
export const FARTHEST_ALPHA = 500;

/** A region that can serve many quantities. `steps`, an even number: __Default value:__ 144 */
export function traceRegion(fit: FittedWeibull, drop: number, steps = 144): LikelihoodRegion {
  const shape = shapeBounds(fit, drop);
  const here = Math.log(fit.shape);
  const top = likelihoodAt(fit.likelihood, fit.alpha, fit.beta);
  const halves = new Map<Side, Slice[]>();
  const region: LikelihoodRegion = {
    fit,
    ridge: -top.hessAlphaBeta / top.hessAlphaAlpha,
    drop,
    lowLogShape: shape.lower === null ? here - FARTHEST_LOG_SHAPE : Math.log(shape.lower),
    highLogShape: shape.upper === null ? here + FARTHEST_LOG_SHAPE : Math.log(shape.upper),
    endless: { low: shape.lower === null, high: shape.upper === null },
    stepAngle: (2 * Math.PI) / steps,
    half: (side) => {
      const known = halves.get(side) ?? traceHalf(region, side, steps / 2);
      halves.set(side, known);
      return known;
    },
  };
  return region;
}

function traceHalf(region: LikelihoodRegion, side: Side, steps: number): Slice[] {
  const first = side === 1 ? 0 : Math.PI;
  const slices: Slice[] = new Array(steps);
  // From the middle of the half to both its ends.
  const middle = steps >> 1;
  for (let k = middle; k < steps; k++)
    slices[k] = sliceAt(region, first + (k + 0.5) * region.stepAngle, slices[k - 1] ?? null);
  for (let k = middle - 1; k >= 0; k--)
    slices[k] = sliceAt(region, first + (k + 0.5) * region.stepAngle, slices[k + 1]!);
  return slices;
}

/** The slice at one angle: the shape, its best alpha, and the edge on this half of the turn. `beside`: one near it. */
export function sliceAt(region: LikelihoodRegion, angle: number, beside: Slice | null): Slice {
  const { fit, lowLogShape, highLogShape } = region;
  const half = (highLogShape - lowLogShape) / 2;
  const shape = Math.exp(lowLogShape + half * (1 - Math.cos(angle)));
  const near = beside ?? { best: fit.alpha, shape: fit.shape };
  const start = near.best + region.ridge * (shape - near.shape);
  const slice = likelihoodSlice(fit.likelihood, shape, start);
  const top = topOfSlice(slice, start);
  return { angle, shape, best: top.alpha, edge: edgeOf(region, slice, top, Math.sin(angle) >= 0 ? 1 : -1) };
}

type SliceLikelihood = (alpha: number) => SlicePoint;

interface SliceTop {
  readonly alpha: number;
  readonly value: number;
  readonly hess: number;
}

/** The best alpha of a slice, by damped Newton: the slice is concave. The last step is taken on trust. */
function topOfSlice(slice: SliceLikelihood, start: number): SliceTop {
  let alpha = start;
  let at = slice(alpha);
  for (let i = 0; i < 100; i++) {
    const { grad, hess, value } = at;
    const step = hess < 0 ? -grad / hess : Math.sign(grad);
    const promise = Math.abs(step * grad);
    if (!Number.isFinite(step)) break;
    if (hess < 0 && promise <= 1e-12 * (1 + Math.abs(value)))
      return { alpha: alpha + step, value: value + promise / 2, hess };
    const slack = 1e-14 * (1 + Math.abs(value));
    let size = Math.min(1, 10 / Math.abs(step));
    let next = slice(alpha + size * step);
    for (let k = 0; k < 40 && next.value < value - slack; k++) {
      size /= 2;
      next = slice(alpha + size * step);
    }
    if (next.value < value - slack) break;
    alpha += size * step;
    at = next;
  }
  return { alpha, value: at.value, hess: at.hess };
}

/**
 * Where the likelihood has fallen enough, going up or down from the best alpha: Newton inside a bracket on the root of the
 * fall, which is nearly linear.
 */
function edgeOf(region: LikelihoodRegion, slice: SliceLikelihood, top: SliceTop, side: Side): number {
  const { fit, drop } = region;
  const best = top.alpha;
  const wanted = Math.sqrt(drop);
  let inside = 0;
  let outside = Number.POSITIVE_INFINITY;
  const left = drop - 2 * (fit.logLikelihood - top.value);
  if (!(left > 0)) return best;
  let reach = Math.min(Math.sqrt(left / Math.max(-top.hess, 1e-6)), FARTHEST_ALPHA);
  for (let i = 0; i < 100; i++) {
    const at = slice(best + side * reach);
    const root = Number.isFinite(at.value)
      ? Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - at.value)))
      : Number.POSITIVE_INFINITY;
    if (root < wanted) inside = reach;
    else outside = reach;
    if (inside >= FARTHEST_ALPHA) break;
    let next = reach + ((wanted - root) * root) / (-side * at.grad);
    // Newton doubles the digits: after so small a step all of them are right.
    const last = Math.abs(next - reach) <= 1e-7 * reach;
    if (last || outside - inside <= 1e-11 * reach)
      return best + side * Math.min(last ? next : reach, FARTHEST_ALPHA);
    const limit = Math.min(outside, 3 * reach, FARTHEST_ALPHA);
    const beyond = Number.isFinite(outside) ? (inside + outside) / 2 : Math.min(3 * reach, FARTHEST_ALPHA);
    if (!(next > inside && next <= limit)) next = beyond;
    reach = next;
  }
  return best + side * Math.min(reach, FARTHEST_ALPHA);
}
