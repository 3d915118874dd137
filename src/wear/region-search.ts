/**
 * Where a risk is largest or smallest over a likelihood region that was sampled by rays. A quadratic model of the risk says
 * where to look; the likelihood and the risk itself answer. Where the risk doesn't follow its model (it may have a floor),
 * every ray and the risk's own gradient are asked.
 */
import type { RateFit } from "./decision-fit.ts";
import { PARAMETERS, parametersOf } from "./decision-likelihood.ts";
import type { RiskFunction } from "./likelihood-region.ts";
import { keepCurvesOf, type RateParameters } from "./rate-families.ts";
import { type Geometry, normalised } from "./region-geometry.ts";
import { modelAlong, modelGradient, modelRise, type RegionModel } from "./region-model.ts";
import { castRay, nearest, type Ray, stretched, thetaAt } from "./region-rays.ts";

/** Where the rays end in a region stretched by a factor. */
export interface StretchedEdge {
  readonly factor: number;
  readonly distances: Float64Array;
  /** Parameters there, made when first asked for, with their curves kept. */
  readonly ends: (RateParameters | undefined)[];
}

/** Rays of a region from `root` on, followed `factor` times as far by their growth. */
export const stretchedEdge = (rays: readonly Ray[], root: number, factor: number): StretchedEdge => ({
  factor,
  distances: Float64Array.from(rays, (ray) => stretched(ray, root, factor)),
  ends: [],
});

/** The edge of a region by its rays, with what any risk needs of it. */
export interface SampledEdge {
  readonly fit: RateFit;
  readonly geometry: Geometry;
  readonly rays: readonly Ray[];
  /** √threshold at which the rays end. */
  readonly root: number;
  /** Parameters at the optimum and at the rays' ends: the same objects for every risk, so that their curves are kept. */
  readonly middle: RateParameters;
  readonly ends: readonly RateParameters[];
  /** Places of the rays, those that end at the fastest rates first. */
  readonly fastestFirst: readonly number[];
  /** Made when first asked for. */
  readonly model: () => RegionModel;
  /** The last one is kept: risks are mostly stretched alike. */
  readonly stretchedBy: (factor: number) => StretchedEdge;
  /** A risk's mean gradient from its rises along the rays' pairs, each times its direction and added up. */
  readonly slopeOf: (rises: Float64Array) => Float64Array;
}

/** What is looked for, and in which direction it lies by the rays' values. */
export interface Search {
  readonly risk: RiskFunction;
  readonly estimate: number;
  /** At the rays' ends. */
  readonly values: readonly number[];
  /** By how much the region is stretched. */
  readonly factor: number;
  /** The risk's mean gradient, of length 1. */
  readonly slope: Float64Array;
  /** A value over this ends the search: it will do for the largest. */
  readonly upTo: number;
}

interface Spot {
  readonly direction: Float64Array;
  readonly distance: number;
  readonly value: number;
}

/** A search towards the largest (side 1) or smallest (−1) value. */
interface Towards extends SampledEdge, Search {
  readonly edge: StretchedEdge;
  readonly side: 1 | -1;
  /** Rise from the estimate: of the logarithm, where all values have one. */
  readonly riseOf: (value: number) => number;
  readonly coefficients: Float64Array;
}

/** Steps along the risk's own gradient: as often as they gain a hundredth. */
const MOST_STEPS = 5;
const WORTH_A_STEP = 0.01;
/** A rise is as promised within a tenth, or a hundredth where it is small. */
const KEPT = 0.1;

/** The largest and smallest value found over the stretched region; a side that isn't wanted is the estimate or beyond. */
export function extremesOf(
  edge: SampledEdge,
  search: Search,
  sides: readonly (1 | -1)[],
): { readonly lower: number; readonly upper: number } {
  const { estimate, values, factor } = search;
  const stretched = edge.stretchedBy(factor);
  const logs = estimate > 0 && values.every((value) => value > 0);
  const riseOf = (value: number) => (logs ? Math.log(value / estimate) : value - estimate);
  const coefficients = edge.model().coefficients(values.map(riseOf));
  // The region holds its inner parts too.
  const found = [estimate, ...values];
  for (const side of sides)
    found.push(outermost({ ...edge, ...search, edge: stretched, side, riseOf, coefficients }));
  return { lower: Math.min(...found), upper: Math.max(...found) };
}

function outermost(at: Towards): number {
  const { side, slope, riseOf, coefficients } = at;
  const better = (a: Spot, b: Spot) => (side * b.value > side * a.value ? b : a);
  const enough = (value: number) => side === 1 && value > at.upTo;
  const rays = stretchedRays(at);
  const over = rays.spots.find(({ value }) => enough(value));
  if (over !== undefined) return over.value;
  const first = onEdge(at, modelDirection(at));
  const asModelled = isKept(at, first.value, modelRise(coefficients, first.direction, first.distance));
  let best = rays.spots.reduce(better, first);
  if ((asModelled && rays.kept) || enough(best.value)) return best.value;
  const mean = onEdge(
    at,
    slope.map((v) => side * v),
  );
  const next = uphillFrom(at, mean);
  best = [mean, ...(next === null ? [] : [onEdge(at, next)])].reduce(better, best);
  for (let step = 0; step < MOST_STEPS && !enough(best.value); step++) {
    const uphill = uphillFrom(at, best);
    if (uphill === null) break;
    const spot = onEdge(at, uphill);
    const gain = side * (riseOf(spot.value) - riseOf(best.value));
    best = better(best, spot);
    if (!(gain > WORTH_A_STEP)) break;
  }
  return best.value;
}

const isKept = ({ riseOf }: Towards, value: number, promised: number): boolean =>
  Math.abs(riseOf(value) - promised) <= KEPT * Math.max(0.1, Math.abs(promised));

function spotAt({ fit, geometry, risk }: Towards, direction: Float64Array, distance: number): Spot {
  const value = risk(parametersOf(fit.family, thetaAt(fit, geometry, direction, distance)));
  return { direction, distance, value };
}

/** About how far the stretched region goes in a direction. */
const reachIn = ({ rays, edge }: Towards, direction: Float64Array): number =>
  edge.distances[nearest(rays, direction)]!;

/** The region's edge in a direction, by the likelihood. */
function onEdge(at: Towards, direction: Float64Array): Spot {
  const { fit, geometry, rays, root, factor, edge } = at;
  const like = nearest(rays, direction);
  const start = edge.distances[like]!;
  const { distance } = castRay(fit, geometry, direction, root * factor, rays[like]!, start);
  return spotAt(at, direction, distance);
}

const TURNS = 8;

/** The direction that is along the model's gradient where it meets the edge. */
function modelDirection(at: Towards): Float64Array {
  const { side, slope, coefficients } = at;
  let direction: Float64Array = slope.map((v) => side * v);
  for (let turn = 0; turn < TURNS; turn++) {
    const uphill = modelGradient(coefficients, direction, reachIn(at, direction));
    if (uphill === null) break;
    direction = normalised(direction.map((v, k) => v + side * uphill[k]!)) ?? direction;
  }
  return direction;
}

/** Rays looked at again where the region is stretched: those with the largest values, and those that promise most. */
const MOST_RAYS = 3;

/** The risk where rays end in the stretched region: at a few of them, and at all where one doesn't keep its promise. */
function stretchedRays(at: Towards): { readonly spots: readonly Spot[]; readonly kept: boolean } {
  const { rays, side, values, riseOf, coefficients, edge } = at;
  if (at.factor === 1) return { spots: [], kept: true };
  const promised = new Float64Array(rays.length);
  for (let k = 0; k < rays.length; k++) {
    const { direction, distance: inner } = rays[k]!;
    const distance = edge.distances[k]!;
    const { slope, bend } = modelAlong(coefficients, direction);
    const residual = riseOf(values[k]!) - (slope + bend * inner) * inner;
    promised[k] = (slope + bend * distance) * distance + residual * (distance / inner) ** 2;
  }
  const chosen = [...new Set([...foremost(promised, side), ...foremost(values, side)])];
  const spots = chosen.map((k) => stretchedEnd(at, k));
  if (chosen.every((k, i) => isKept(at, spots[i]!.value, promised[k]!))) return { spots, kept: true };
  return { spots: rays.map((_, k) => stretchedEnd(at, k)), kept: false };
}

/** The risk where a ray ends in the stretched region. */
function stretchedEnd({ fit, geometry, rays, edge, risk }: Towards, k: number): Spot {
  const { direction } = rays[k]!;
  const distance = edge.distances[k]!;
  edge.ends[k] ??= keepCurvesOf(parametersOf(fit.family, thetaAt(fit, geometry, direction, distance)));
  return { direction, distance, value: risk(edge.ends[k]) };
}

/** Places of the few values that are largest (side 1) or smallest (−1), the first of equal ones. */
function foremost(values: ArrayLike<number>, side: 1 | -1): number[] {
  const found: number[] = [];
  while (found.length < MOST_RAYS && found.length < values.length) {
    let best = -1;
    for (let k = 0; k < values.length; k++) {
      if (!found.includes(k) && (best < 0 || side * values[k]! > side * values[best]!)) best = k;
    }
    found.push(best);
  }
  return found;
}

/** The direction of the risk's own gradient at a spot, by differences of a fifth of a standard deviation. */
function uphillFrom(at: Towards, { direction, distance, value }: Spot): Float64Array | null {
  const shift = 0.2;
  const local = new Float64Array(PARAMETERS);
  for (let j = 0; j < PARAMETERS; j++) {
    const moved = direction.map((v, k) => v * distance + (k === j ? shift : 0));
    local[j] = at.side * (spotAt(at, moved, 1).value - value);
  }
  return normalised(local);
}
