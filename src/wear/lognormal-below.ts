/**
 * The chance that a reading is below a limit as a curve over hours, for lognormal rates: Σ w·Φ(z − log(hours)/spread) over
 * points of the scatter, z being the standardised log of rate · hours that would just reach the limit there.
 *
 * Readings mostly scatter little beside the room there is and beside the rates' spread: then a few points are as good as
 * many, and a table of the curve would take longer to fill than it saves.
 */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { normalCdfInSums } from "../math/tabulated-normal.ts";

/** Rates b with log b ~ N(location, spread²); readings about b·hours/1000, roomMm below the limit at no hours. */
export interface LognormalWear {
  readonly location: number;
  readonly spread: number;
  readonly roomMm: number;
  /** Standard deviation of a reading about its line. */
  readonly omegaMm: number;
  /** Hours count as hours^exponent, in units in which 1000 h stay 1000. __Default value:__ 1 */
  readonly exponent?: number;
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
  /** By how much of it z falls with the logarithm of the hours. */
  readonly perLogHours: number;
}

/** Points at which the scatter alone does not reach the limit. */
function pointsOf({ location, spread, roomMm, omegaMm, exponent = 1 }: LognormalWear): Points {
  const { nodes, weights } = normalQuadrature(pointsFor(omegaMm / roomMm, spread));
  const reach = nodes.map((node) => (roomMm - omegaMm * node) * 1000);
  // The logarithm of hours on the clock is exponent·log(hours) and this.
  const start = (1 - exponent) * Math.log(1000);
  return {
    z: reach.filter((value) => value > 0).map((value) => (Math.log(value) - start - location) / spread),
    weights: weights.filter((_, k) => reach[k]! > 0),
    perLogHours: exponent / spread,
  };
}

/** The curve over the logarithm of the hours. */
export function lognormalBelow(wear: LognormalWear): (logHours: number) => number {
  const { z, weights, perLogHours } = pointsOf(wear);
  return (logHours) => {
    const shift = logHours * perLogHours;
    let sum = 0;
    for (let k = 0; k < z.length; k++) sum += weights[k]! * normalCdfInSums(z[k]! - shift);
    return sum;
  };
}
