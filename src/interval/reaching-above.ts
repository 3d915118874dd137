/**
 * How many components have a rate above a given one and reach the limit before any other removal: the integral, over the
 * rates above, of their density times their chance to get there. Only tails are summed, so a thin one keeps its digits.
 */
import { unitQuadrature } from "../math/gauss-legendre.ts";
import { power } from "../math/power.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import { curvesKeptOf, type RateParameters, rateAbove, SMALLEST_SPREAD } from "../wear/rate-families.ts";

/** When a rate reaches the limit: thousands of hours are (toLimitMm/rate)^(1/exponent). */
export interface WayToLimit {
  readonly toLimitMm: number;
  readonly exponent: number;
  /** Removals for other reasons per flight hour. */
  readonly hazardPerHour: number;
}

/** Chance that a component of one rate reaches the limit before another removal. */
export function reachesLimit({ toLimitMm, exponent, hazardPerHour }: WayToLimit, rate: number): number {
  if (hazardPerHour === 0) return 1;
  return rate > 0 ? Math.exp(-1000 * hazardPerHour * power(toLimitMm / rate, 1 / exponent)) : 0;
}

/** A share of the components, by the rate that theirs is above. */
type ShareAbove = (rate: number) => number;

/** Share of the components that reach the limit and have a rate above a given one. */
export function reachingAbove(parameters: RateParameters, way: WayToLimit): ShareAbove {
  if (way.hazardPerHour === 0) return (rate) => rateAbove(parameters, rate);
  if (!curvesKeptOf(parameters)) return shareReaching(parameters, way);
  const known = kept.get(parameters) ?? [];
  kept.set(parameters, known);
  const ready = known.find((one) => isSame(one.way, way));
  if (ready !== undefined) return ready.above;
  const above = shareReaching(parameters, way);
  known.push({ way, above });
  return above;
}

/** Of parameters that are asked about again and again, by the way to the limit. */
const kept = new WeakMap<RateParameters, { readonly way: WayToLimit; readonly above: ShareAbove }[]>();

const isSame = (a: WayToLimit, b: WayToLimit): boolean =>
  a.toLimitMm === b.toLimitMm && a.exponent === b.exponent && a.hazardPerHour === b.hazardPerHour;

const ROOT_2PI = Math.sqrt(2 * Math.PI);
/** So many standard deviations above the mode the cells begin: beyond, there are fewer than 1 in 10¹¹. */
const FAR = 7;
/** They begin no higher: where the mode is so far up the rates, nothing reaches the limit. */
const FARTHEST = 32;

/**
 * The integral of a density over a cell, from one place to another: places are standard deviations z of the rates from their
 * location, and the density that of the components which reach the limit, without its constant.
 */
type OverCell = (from: number, to: number) => number;

/** Width of a cell, and the points in it: shares are then right to 1e-8. */
const CELL = 1.5;
const POINTS = 7;
const { nodes, weights } = unitQuadrature(POINTS);

function shareReaching(parameters: RateParameters, way: WayToLimit): ShareAbove {
  const { family, location } = parameters;
  const spread = Math.max(parameters.spread, SMALLEST_SPREAD);
  return family === "lognormal"
    ? lognormalReaching(location, spread, way)
    : normalReaching(location, spread, way);
}

function lognormalReaching(location: number, spread: number, way: WayToLimit): ShareAbove {
  // Other removals expected on the way to the limit are before·exp(−slope·z).
  const before = 1000 * way.hazardPerHour * Math.exp((Math.log(way.toLimitMm) - location) / way.exponent);
  const slope = spread / way.exponent;
  const cell = CELL / Math.max(1, slope);
  // By how much the removals fall from a cell's start to its points: the same for all whole cells.
  const falls = new Float64Array(POINTS);
  let fallsOver = 0;
  const overCell: OverCell = (from, to) => {
    const width = to - from;
    if (width !== fallsOver) {
      for (let k = 0; k < POINTS; k++) falls[k] = Math.exp(-slope * width * nodes[k]!);
      fallsOver = width;
    }
    const removals = before * Math.exp(-slope * from);
    let sum = 0;
    for (let k = 0; k < POINTS; k++) {
      const z = from + width * nodes[k]!;
      sum += weights[k]! * Math.exp(-0.5 * z * z - removals * falls[k]!);
    }
    return sum * width;
  };
  // The density's mode is W(before·slope²)/slope; Lambert's W is at most log(1 + ·).
  const mode = Math.log1p(before * slope * slope) / slope;
  const tail = tailOf(overCell, mode + FAR, cell, Number.NEGATIVE_INFINITY);
  return (rate) => tail((Math.log(rate) - location) / spread) / ROOT_2PI;
}

function normalReaching(location: number, spread: number, way: WayToLimit): ShareAbove {
  const hazard = 1000 * way.hazardPerHour;
  const fall = 1 / way.exponent;
  const removalsAt = (rate: number) => hazard * power(way.toLimitMm / rate, fall);
  const overCell: OverCell = (from, to) => {
    const width = to - from;
    let sum = 0;
    for (let k = 0; k < POINTS; k++) {
      const z = from + width * nodes[k]!;
      sum += weights[k]! * Math.exp(-0.5 * z * z - removalsAt(location + spread * z));
    }
    return sum * width;
  };
  const zero = -location / spread;
  // The density's logarithm bends down by at least 1 everywhere: from any place the mode is no farther than the slope there.
  const place = Math.max(0, zero + 1);
  const rate = location + spread * place;
  const mode = place + (removalsAt(rate) * fall * spread) / rate;
  const tail = tailOf(overCell, mode + FAR, CELL, zero);
  const whole = ROOT_2PI * tabulatedNormalCdf(-zero);
  return (above) => tail((above - location) / spread) / whole;
}

/** What is left below the lowest cell, as a share of all. */
const NEGLIGIBLE = 1e-10;

/**
 * The integral of a density above a place: over the rest of the place's cell, and the sum of the cells above it. Cells go
 * down from the top, none of them more than halfway to `zero`, near which ever fewer reach the limit.
 */
function tailOf(overCell: OverCell, top: number, width: number, zero: number): (z: number) => number {
  // A whole number, from which equally wide cells stay equally wide to the last digit.
  let edge = Math.min(Math.ceil(top), FARTHEST);
  let sum = 0;
  let last = 0;
  let lastButOne: number;
  const edges = [edge];
  const aboveEdge = [sum];
  do {
    const next = Math.max(edge - width, (edge + zero) / 2);
    lastButOne = last;
    last = overCell(next, edge);
    sum += last;
    edge = next;
    edges.push(edge);
    aboveEdge.push(sum);
  } while (last > lastButOne || last > NEGLIGIBLE * sum);
  return (z) => {
    // So far out the density falls by a factor e with every 1/z.
    if (z >= edges[0]!) return overCell(z, z + 4 / z) + overCell(z + 4 / z, z + 16 / z);
    let k = 1;
    while (k < edges.length && edges[k]! > z) k++;
    return k === edges.length ? sum : aboveEdge[k - 1]! + overCell(z, edges[k - 1]!);
  };
}
