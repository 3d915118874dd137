/**
 * How many components have a rate above a given one and reach the limit before any other removal: the tail's own mass times
 * the mean chance to get there within it, so that a thin tail keeps its digits.
 */
import { unitQuadrature } from "../math/gauss-legendre.ts";
import { power } from "../math/power.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import { tabulatedNormalQuantile } from "../math/tabulated-quantile.ts";
import { type RateParameters, rateAbove, SMALLEST_SPREAD } from "../wear/rate-families.ts";

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

const { nodes, weights } = unitQuadrature(12);

/** Share of the components by the rate that theirs is above; within the tail the mean is taken over equal shares of it. */
export function reachingAbove(parameters: RateParameters, way: WayToLimit): (rate: number) => number {
  if (way.hazardPerHour === 0) return (rate) => rateAbove(parameters, rate);
  const reaches = reachesAtPlace(parameters, way);
  const { family, location } = parameters;
  const whole =
    family === "normal" ? tabulatedNormalCdf(location / Math.max(parameters.spread, SMALLEST_SPREAD)) : 1;
  return (rate) => {
    const tail = rateAbove(parameters, rate);
    if (tail <= 0) return 0;
    let mean = 0;
    for (let k = 0; k < nodes.length; k++)
      mean += weights[k]! * reaches(-tabulatedNormalQuantile(tail * nodes[k]! * whole));
    return tail * mean;
  };
}

/** The chance for a rate so many standard deviations from the location. */
function reachesAtPlace(parameters: RateParameters, way: WayToLimit): (z: number) => number {
  const { family, location, spread } = parameters;
  if (family === "normal") return (z) => reachesLimit(way, location + spread * z);
  const { toLimitMm, exponent, hazardPerHour } = way;
  // Thousands of hours to the limit are exp(start − slope·z).
  const start = (Math.log(toLimitMm) - location) / exponent;
  const slope = spread / exponent;
  return (z) => Math.exp(-1000 * hazardPerHour * Math.exp(start - slope * z));
}
