/**
 * The chance that a reading is below a limit as a curve over hours, for lognormal rates: Σ w·Φ(z − log(hours)/spread) over
 * points of the scatter, z being the standardised log of rate · hours that would just reach the limit there.
 *
 * Readings mostly scatter little beside the room there is and beside the rates' spread: then a few points are as good as
 * many. Where one curve is asked for again and again it is tabulated.
 */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { quinticAt } from "../math/quintic.ts";
import { normalCdfInSums } from "../math/tabulated-normal.ts";

/** Rates b with log b ~ N(location, spread²); readings about b·hours/1000, roomMm below the limit at no hours. */
export interface LognormalWear {
  readonly location: number;
  readonly spread: number;
  readonly roomMm: number;
  /** Standard deviation of a reading about its line. */
  readonly omegaMm: number;
}

/** Fewest points with an error below 1e-9, which with n of them is about 0.3·2⁻ⁿ·(scatter on log hours/spread)²ⁿ. */
const RULES = [
  { points: 5, mostRatio: 0.15, mostScatter: 0.07 },
  { points: 7, mostRatio: 0.3, mostScatter: 0.1 },
  { points: 11, mostRatio: 0.5, mostScatter: 0.12 },
] as const;
const MOST_POINTS = 15;

function pointsFor(scatter: number, spread: number): number {
  const enough = RULES.find((rule) => scatter <= rule.mostScatter && scatter <= rule.mostRatio * spread);
  return scatter >= 0 && enough !== undefined ? enough.points : MOST_POINTS;
}

interface Points {
  readonly z: Float64Array;
  readonly weights: Float64Array;
}

/** Points at which the scatter alone does not reach the limit. */
function pointsOf({ location, spread, roomMm, omegaMm }: LognormalWear): Points {
  const { nodes, weights } = normalQuadrature(pointsFor(omegaMm / roomMm, spread));
  const reach = nodes.map((node) => (roomMm - omegaMm * node) * 1000);
  return {
    z: reach.filter((value) => value > 0).map((value) => (Math.log(value) - location) / spread),
    weights: weights.filter((_, k) => reach[k]! > 0),
  };
}

/** The curve over hours above 0, each value by itself. */
export function lognormalBelow(wear: LognormalWear): (hours: number) => number {
  const points = pointsOf(wear);
  return (hours) => sumAt(points, Math.log(hours) / wear.spread);
}

function sumAt({ z, weights }: Points, shift: number): number {
  let sum = 0;
  for (let k = 0; k < z.length; k++) sum += weights[k]! * normalCdfInSums(z[k]! - shift);
  return sum;
}

const CELLS_PER_UNIT = 8;
/** Φ is 0 or 1 beyond it. */
const EDGE = 8;
/** A wider table than this is none: there the spread is next to nothing. */
const MOST_CELLS = 512;

/**
 * The same curve by quintic Hermite interpolation between values with their first two derivatives, in steps of 1/8 of
 * log(hours)/spread: error below h⁶/46080 · max|φ⁽⁵⁾| = 2e-10. Values are computed when first needed.
 */
export function tabulatedLognormalBelow(wear: LognormalWear): (hours: number) => number {
  const points = pointsOf(wear);
  const { z, weights } = points;
  const { spread } = wear;
  const from =
    Math.floor(z.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY)) - EDGE;
  const to = Math.ceil(z.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY)) + EDGE;
  const cells = (to - from) * CELLS_PER_UNIT;
  if (!(cells <= MOST_CELLS)) return lognormalBelow(wear);
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const table = new Float64Array(3 * (cells + 1)).fill(Number.NaN);
  return (hours) => {
    const shift = Math.log(hours) / spread;
    const place = (shift - from) * CELLS_PER_UNIT;
    if (!(place > 0)) return whole;
    if (place >= cells) return 0;
    const cell = Math.floor(place);
    const at = 3 * cell;
    if (Number.isNaN(table[at]!)) fillNode(table, at, z, weights, from + cell / CELLS_PER_UNIT);
    if (Number.isNaN(table[at + 3]!)) fillNode(table, at + 3, z, weights, from + (cell + 1) / CELLS_PER_UNIT);
    return quinticAt(table, at, place - cell);
  };
}

const ROOT_2PI = Math.sqrt(2 * Math.PI);

/** Value, and the derivatives in steps of the table. */
function fillNode(
  table: Float64Array,
  at: number,
  z: Float64Array,
  weights: Float64Array,
  shift: number,
): void {
  let value = 0;
  let slope = 0;
  let bend = 0;
  for (let k = 0; k < z.length; k++) {
    const x = z[k]! - shift;
    const density = (weights[k]! * Math.exp(-0.5 * x * x)) / ROOT_2PI;
    value += weights[k]! * normalCdfInSums(x);
    slope -= density;
    bend -= density * x;
  }
  table[at] = value;
  table[at + 1] = slope / CELLS_PER_UNIT;
  table[at + 2] = bend / CELLS_PER_UNIT ** 2;
}
