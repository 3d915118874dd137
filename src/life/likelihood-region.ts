/**
 * Bounds of any quantity of a Weibull life over the likelihood region {2 (l_max - l) <= drop}.
 *
 * For a smooth quantity this is its profile-likelihood bound; for one with steps it is the greatest and least value that
 * any believable Weibull gives. How the region's outline is walked is in region-outline.ts.
 */
import { power } from "../math/power.ts";
import { type Bounds, bounds } from "./likelihood-drop.ts";
import {
  FARTHEST_ALPHA,
  type LikelihoodRegion,
  type Side,
  type Slice,
  sliceAt,
  traceRegion,
} from "./region-outline.ts";
import type { FittedWeibull, WeibullParameters } from "./weibull-fit.ts";

/** A quantity of interest, say the chance to be over the limit at some hours. */
export type Quantity = (parameters: WeibullParameters) => number;

/** The greatest and least value of a quantity over the region (null: no end to it), and where. */
export interface Extremes extends Bounds {
  readonly least: WeibullParameters;
  readonly greatest: WeibullParameters;
}

const SHARES = [0, 0.25, 0.5, 0.75, 0.9, 1];

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
export function extremeOfRisk(region: LikelihoodRegion, risk: Quantity, sign: Side): number | null {
  const half = region.half(sign);
  const riskOf = (slice: Slice) => risk(parametersAt(region, slice, 1));
  const values = half.map(riskOf);
  let at = 0;
  for (const [k, value] of values.entries()) if (sign * value > sign * values[at]!) at = k;
  // Past an end of the half the outline goes on along the other.
  const past = (k: number) => sliceAt(region, half[at]!.angle + (k - at) * region.stepAngle, half[at]!);
  const [before, after] = [at - 1, at + 1].map((k) => values[k] ?? riskOf(past(k)));
  const middle = values[at]!;
  let best: Spot = { value: middle, slice: half[at]!, share: 1 };
  // The top of the parabola through the best slice and its neighbours.
  const bend = before! - 2 * middle + after!;
  const turn = bend === 0 ? 0 : (0.5 * (before! - after!)) / bend;
  if (Math.abs(turn) <= 1) {
    const slice = sliceAt(region, best.slice.angle + turn * region.stepAngle, best.slice);
    const value = riskOf(slice);
    if (sign * value > sign * best.value) best = { value, slice, share: 1 };
  }
  const estimate = risk(region.fit);
  if (!(sign * best.value > sign * estimate)) return estimate;
  return goesOn(region, risk, best) ? null : best.value;
}

/**
 * Bounds of survival at any hours over a region that was traced before. The log cumulative hazard alpha + beta l is a straight line
 * in the region's own parameters, so its extremes lie on the outline, wherever that is farthest in one direction; the top of the
 * parabola through the farthest slice and its neighbours finds them to four digits or more without another slice.
 */
export function survivalBounds(region: LikelihoodRegion): (hours: number) => Bounds {
  const outline = [...region.half(1), ...region.half(-1)];
  const { endless, fit } = region;
  const ends = outline.every(({ best, edge }) => Math.abs(edge - best) < FARTHEST_ALPHA);
  if (endless.low || endless.high || !ends) {
    return (hours) =>
      extremesOver(region, ({ shape, scaleHours }) => Math.exp(-power(hours / scaleHours, shape)), 0);
  }
  return (hours) => {
    const log = Math.log(hours) - fit.likelihood.centre;
    const logHazards = outline.map(({ edge, shape }) => edge + shape * log);
    const survivalAt = (logHazard: number) => Math.exp(-Math.exp(logHazard));
    return { lower: survivalAt(farthest(logHazards, 1)), upper: survivalAt(farthest(logHazards, -1)) };
  };
}

/** The greatest (1) or least (-1) of values evenly round an outline, between them by a parabola. */
function farthest(values: readonly number[], sign: Side): number {
  let at = 0;
  for (let k = 1; k < values.length; k++) if (sign * values[k]! > sign * values[at]!) at = k;
  const [before, middle, after] = [values.at(at - 1)!, values[at]!, values[(at + 1) % values.length]!];
  const bend = before - 2 * middle + after;
  return sign * bend < 0 ? middle - (after - before) ** 2 / (8 * bend) : middle;
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
  sign: Side,
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
  for (const slice of [...region.half(1), ...region.half(-1)]) {
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
  sign: Side,
  refinements: number,
): Spot {
  const at = (angle: number) => spot(sliceAt(region, angle, start.slice), start.share);
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = start.slice.angle - region.stepAngle;
  let high = start.slice.angle + region.stepAngle;
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
  const near = quantity(
    parametersAt(region, sliceAt(region, angle, best.slice), best.share * (atEdge ? 0.9 : 1)),
  );
  return Math.abs(best.value - near) > 1e-3 * Math.abs(best.value);
}

function parametersAt(region: LikelihoodRegion, slice: Slice, share: number): WeibullParameters {
  const alpha = slice.best + share * (slice.edge - slice.best);
  return { shape: slice.shape, scaleHours: Math.exp(region.fit.likelihood.centre - alpha / slice.shape) };
}
