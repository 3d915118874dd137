/**
 * Bounds of any quantity of a Weibull life over the likelihood region {2 (l_max - l) <= drop}.
 *
 * For a smooth quantity this is its profile-likelihood bound; for one with steps it is the greatest and least value that
 * any believable Weibull gives. At each shape the log-likelihood is concave in alpha, late entry or not, so the region is
 * a stack of slices, one a shape. Its outline is walked by an angle: log shape = middle - half cos(angle), the upper edge
 * of the slice on one half of the turn and the lower on the other, so that the outline is smooth in the angle.
 */
import { type Bounds, bounds } from "./likelihood-drop.ts";
import { FARTHEST_LOG_SHAPE, shapeBounds } from "./profile-bounds.ts";
import type { FittedWeibull, WeibullParameters } from "./weibull-fit.ts";
import { likelihoodAt, likelihoodSlice, type SlicePoint } from "./weibull-likelihood.ts";

/** A quantity of interest, say the chance to be over the limit at some hours. */
export type Quantity = (parameters: WeibullParameters) => number;

/** Half of a slice at one shape: from the best alpha to one edge. */
interface Slice {
  readonly angle: number;
  readonly shape: number;
  readonly best: number;
  readonly edge: number;
}

export interface LikelihoodRegion {
  readonly fit: FittedWeibull;
  readonly drop: number;
  /** Ends of the log shape; where the likelihood sets none, a far one. */
  readonly lowLogShape: number;
  readonly highLogShape: number;
  readonly endless: { readonly low: boolean; readonly high: boolean };
  /** How the best alpha moves with the shape near the estimate. */
  readonly ridge: number;
  readonly slices: readonly Slice[];
}

/** The greatest and least value of a quantity over the region (null: no end to it), and where. */
export interface Extremes extends Bounds {
  readonly least: WeibullParameters;
  readonly greatest: WeibullParameters;
}

const FARTHEST_ALPHA = 500;
const SHARES = [0, 0.25, 0.5, 0.75, 0.9, 1];

/** Traces the region once; it can then serve many quantities. `steps`: __Default value:__ 144 */
export function traceRegion(fit: FittedWeibull, drop: number, steps = 144): LikelihoodRegion {
  const shape = shapeBounds(fit, drop);
  const here = Math.log(fit.shape);
  const top = likelihoodAt(fit.likelihood, fit.alpha, fit.beta);
  const outline = {
    fit,
    ridge: -top.hessAlphaBeta / top.hessAlphaAlpha,
    drop,
    lowLogShape: shape.lower === null ? here - FARTHEST_LOG_SHAPE : Math.log(shape.lower),
    highLogShape: shape.upper === null ? here + FARTHEST_LOG_SHAPE : Math.log(shape.upper),
    endless: { low: shape.lower === null, high: shape.upper === null },
  };
  const slices = Array.from({ length: steps }, (_, i) => sliceAt(outline, (2 * Math.PI * (i + 0.5)) / steps));
  return { ...outline, slices };
}

/** Extremes of a quantity over a fit's likelihood region: profile-likelihood bounds where the quantity is smooth. */
export function boundOverRegion(fit: FittedWeibull, quantity: Quantity, drop: number): Extremes {
  return extremesOver(traceRegion(fit, drop), quantity);
}

/**
 * Extremes of a quantity over a region that was traced before.
 *
 * @param refinements  golden-section steps on the angle: 24 give 9 digits of a smooth quantity, 10 give 6
 */
export function extremesOver(region: LikelihoodRegion, quantity: Quantity, refinements = 24): Extremes {
  const least = extreme(region, quantity, -1, refinements);
  const greatest = extreme(region, quantity, 1, refinements);
  return { ...bounds(least.value, greatest.value), least: least.at, greatest: greatest.at };
}

/**
 * One side only of a quantity that never falls as lives get shorter (a risk): the least (-1) or the greatest (1) value over
 * a region; null: no end to it. At each shape such a quantity is extreme at an edge of the slice, the greatest where lives
 * are shortest; along the edge a parabola finds it to about six digits.
 */
export function extremeOfRisk(region: LikelihoodRegion, risk: Quantity, sign: 1 | -1): number | null {
  const { slices } = region;
  const riskOf = (slice: Slice) => risk(parametersAt(region, slice, 1));
  const half = slices.flatMap((slice, k) => (sign * Math.sin(slice.angle) > 0 ? [k] : []));
  const values = new Map(half.map((k) => [k, riskOf(slices[k]!)]));
  const at = half.reduce((best, k) => (sign * values.get(k)! > sign * values.get(best)! ? k : best));
  const step = (2 * Math.PI) / slices.length;
  const beside = [at - 1, at + 1].map((k) => {
    const around = (k + slices.length) % slices.length;
    return values.get(around) ?? riskOf(slices[around]!);
  });
  const middle = values.get(at)!;
  let best: Spot = { value: middle, slice: slices[at]!, share: 1 };
  // The top of the parabola through the best slice and its neighbours.
  const bend = beside[0]! - 2 * middle + beside[1]!;
  const turn = bend === 0 ? 0 : (0.5 * (beside[0]! - beside[1]!)) / bend;
  if (Math.abs(turn) <= 1) {
    const slice = sliceAt(region, best.slice.angle + turn * step);
    const value = riskOf(slice);
    if (sign * value > sign * best.value) best = { value, slice, share: 1 };
  }
  const estimate = risk(region.fit);
  if (!(sign * best.value > sign * estimate)) return estimate;
  return goesOn(region, risk, best) ? null : best.value;
}

interface Spot {
  readonly value: number;
  readonly slice: Slice;
  /** 0: the best alpha of the slice; 1: its edge. */
  readonly share: number;
}

function extreme(
  region: LikelihoodRegion,
  quantity: Quantity,
  sign: 1 | -1,
  refinements: number,
): { value: number | null; at: WeibullParameters } {
  const spot = (slice: Slice, share: number): Spot => ({
    value: quantity(parametersAt(region, slice, share)),
    slice,
    share,
  });
  const better = (a: Spot, b: Spot) => (sign * b.value > sign * a.value ? b : a);
  const { alpha, shape } = { alpha: region.fit.alpha, shape: region.fit.shape };
  let best = spot({ angle: Math.PI / 2, shape, best: alpha, edge: alpha }, 0);
  for (const slice of region.slices) {
    for (const share of SHARES) best = better(best, spot(slice, share));
  }
  best = better(best, refined(region, best, spot, sign, refinements));
  const at = parametersAt(region, best.slice, best.share);
  return goesOn(region, quantity, best) ? { value: null, at } : { value: best.value, at };
}

/** Golden section on the angle, a step to each side of the best, at the same share of the slice. */
function refined(
  region: LikelihoodRegion,
  start: Spot,
  spot: (slice: Slice, share: number) => Spot,
  sign: 1 | -1,
  refinements: number,
): Spot {
  const at = (angle: number) => spot(sliceAt(region, angle), start.share);
  const golden = (Math.sqrt(5) - 1) / 2;
  const step = (2 * Math.PI) / region.slices.length;
  let low = start.slice.angle - step;
  let high = start.slice.angle + step;
  let left = at(high - golden * (high - low));
  let right = at(low + golden * (high - low));
  for (let i = 0; i < refinements; i++) {
    if (sign * left.value > sign * right.value) {
      high = right.slice.angle;
      right = left;
      left = at(high - golden * (high - low));
    } else {
      low = left.slice.angle;
      left = right;
      right = at(low + golden * (high - low));
    }
  }
  return sign * left.value > sign * right.value ? left : right;
}

/** Where the region has no end on the side of the extreme: does the quantity settle to a limit there, or go on? */
function goesOn(region: LikelihoodRegion, quantity: Quantity, best: Spot): boolean {
  if (!Number.isFinite(best.value)) return true;
  const logShape = Math.log(best.slice.shape);
  const atLow = region.endless.low && logShape < region.lowLogShape + 0.5;
  const atHigh = region.endless.high && logShape > region.highLogShape - 0.5;
  const atEdge = best.share > 0 && Math.abs(best.slice.edge - best.slice.best) >= FARTHEST_ALPHA;
  if (!atLow && !atHigh && !atEdge) return false;
  const { lowLogShape, highLogShape } = region;
  const inward = atLow ? lowLogShape + 2 : atHigh ? highLogShape - 2 : logShape;
  const middle = (lowLogShape + highLogShape) / 2;
  const turn = Math.acos(Math.min(1, Math.max(-1, (middle - inward) / ((highLogShape - lowLogShape) / 2))));
  const angle = best.slice.angle > Math.PI ? 2 * Math.PI - turn : turn;
  const near = quantity(parametersAt(region, sliceAt(region, angle), best.share * (atEdge ? 0.9 : 1)));
  return Math.abs(best.value - near) > 1e-3 * Math.abs(best.value);
}

function parametersAt(region: LikelihoodRegion, slice: Slice, share: number): WeibullParameters {
  const alpha = slice.best + share * (slice.edge - slice.best);
  return { shape: slice.shape, scaleHours: Math.exp(region.fit.likelihood.centre - alpha / slice.shape) };
}

/** The slice at one angle: the shape, its best alpha, and the edge on this half of the turn. */
function sliceAt(region: Omit<LikelihoodRegion, "slices">, angle: number): Slice {
  const { fit, lowLogShape, highLogShape } = region;
  const half = (highLogShape - lowLogShape) / 2;
  const shape = Math.exp(lowLogShape + half * (1 - Math.cos(angle)));
  const slice = likelihoodSlice(fit.likelihood, shape);
  const best = topOfSlice(slice, fit.alpha + region.ridge * (shape - fit.shape));
  return { angle, shape, best, edge: edgeOf(region, slice, best, Math.sin(angle) >= 0 ? 1 : -1) };
}

type SliceLikelihood = (alpha: number) => SlicePoint;

/** The best alpha of a slice, by damped Newton: the slice is concave. */
function topOfSlice(slice: SliceLikelihood, start: number): number {
  let alpha = start;
  let at = slice(alpha);
  for (let i = 0; i < 100; i++) {
    const step = at.hess < 0 ? -at.grad / at.hess : Math.sign(at.grad);
    if (!Number.isFinite(step) || Math.abs(step * at.grad) <= 1e-16 * (1 + Math.abs(at.value))) break;
    let size = Math.min(1, 10 / Math.abs(step));
    let next = slice(alpha + size * step);
    for (let k = 0; k < 40 && next.value < at.value - 1e-14 * (1 + Math.abs(at.value)); k++) {
      size /= 2;
      next = slice(alpha + size * step);
    }
    if (next.value < at.value - 1e-14 * (1 + Math.abs(at.value))) break;
    alpha += size * step;
    at = next;
  }
  return alpha;
}

/** Where the likelihood has fallen enough, going up or down from the best alpha: Newton inside a bracket. */
function edgeOf(
  region: Omit<LikelihoodRegion, "slices">,
  slice: SliceLikelihood,
  best: number,
  side: 1 | -1,
): number {
  const { fit, drop } = region;
  const wanted = Math.sqrt(drop);
  let inside = 0;
  let outside = Number.POSITIVE_INFINITY;
  const first = slice(best);
  const left = drop - 2 * (fit.logLikelihood - first.value);
  if (!(left > 0)) return best;
  let reach = Math.min(Math.sqrt(left / Math.max(-first.hess, 1e-6)), FARTHEST_ALPHA);
  for (let i = 0; i < 100; i++) {
    const at = slice(best + side * reach);
    const root = Number.isFinite(at.value)
      ? Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - at.value)))
      : Number.POSITIVE_INFINITY;
    if (root < wanted) inside = reach;
    else outside = reach;
    if (inside >= FARTHEST_ALPHA) break;
    let next = reach + ((wanted - root) * root) / (-side * at.grad);
    if (Math.abs(next - reach) <= 1e-11 * reach || outside - inside <= 1e-11 * reach) break;
    const limit = Math.min(outside, 3 * reach, FARTHEST_ALPHA);
    const beyond = Number.isFinite(outside) ? (inside + outside) / 2 : Math.min(3 * reach, FARTHEST_ALPHA);
    if (!(next > inside && next <= limit)) next = beyond;
    reach = next;
  }
  return best + side * Math.min(reach, FARTHEST_ALPHA);
}
