/**
 * Where the search for a two-part mixture begins: the mixture of the components' own rates, each with its standard error
 * and truncated where it entered late, which is quick to fit.
 */
import { minimiseWithGradient } from "../math/minimise.ts";
import { tabulatedLogNormalCdf } from "../math/tabulated-normal.ts";
import type { ComponentRates } from "./component-rates.ts";
import type { RateFit } from "./decision-fit.ts";
import { type MixedLogs, mixLogs } from "./mixed-logs.ts";

/** A gain of two is what AIC asks for; rates alone may show a little less of it than the readings do. */
const WORTH_A_FIT = 0.5;

/**
 * The best mixture of the rates themselves as (location, log spread, log step to the fast part, logit of its share), from
 * three starts; null where it gains nothing worth a look over a single part.
 */
export function mixtureStart(fit: RateFit, rates: ComponentRates): Float64Array | null {
  const { location, spread } = fit.parameters;
  const points = standardPoints(fit, rates);
  const single = minimiseWithGradient(
    (x, gradient) => singleCost(points, x, gradient),
    [location, Math.log(spread)],
    { tolerance: 1e-8 },
  );
  const least = 0.1 * spread;
  let best = { value: single.value - WORTH_A_FIT, at: null as Float64Array | null };
  for (const share of [0.05, 0.15, 0.35]) {
    const start = [
      location - share * spread,
      Math.log(0.7 * spread),
      Math.log(2 * spread),
      Math.log(share / (1 - share)),
    ];
    const found = minimiseWithGradient((x, gradient) => mixtureCost(points, least, x, gradient), start, {
      tolerance: 1e-8,
      maxIterations: 100,
    });
    if (found.value < best.value) best = { value: found.value, at: found.at };
  }
  return best.at;
}

/** Rates on the family's scale, with error variance and the largest that could have been met (infinite from new). */
interface Points {
  readonly value: Float64Array;
  readonly variance: Float64Array;
  readonly largest: Float64Array;
}

function standardPoints(fit: RateFit, rates: ComponentRates): Points {
  const log = fit.family === "lognormal";
  const { rateMmPer1000Hours: rate, standardError, largestMet } = rates;
  return {
    value: log ? rate.map(Math.log) : rate,
    variance: standardError.map((error, i) => (log ? error / rate[i]! : error) ** 2),
    largest: log ? largestMet.map(Math.log) : largestMet,
  };
}

/** Log density of a value, or log chance to be met, in one part; derivatives by the part's location and log spread. */
interface PartLog {
  log: number;
  byLocation: number;
  byLogSpread: number;
}

/** A normal density without its constant, `distance` from the middle of a part; sd has the value's own error in it. */
function densityOf(distance: number, sd: number, square: number, out: PartLog): void {
  const perVariance = 1 / (sd * sd);
  const z2 = distance * distance * perVariance;
  out.log = -Math.log(sd) - 0.5 * z2;
  out.byLocation = distance * perVariance;
  out.byLogSpread = (z2 - 1) * perVariance * square;
}

/** log Φ(room/sd). */
function metOf(room: number, sd: number, square: number, out: PartLog): void {
  const z = room / sd;
  if (z > CERTAIN) {
    out.log = out.byLocation = out.byLogSpread = 0;
    return;
  }
  out.log = tabulatedLogNormalCdf(z);
  const mills = Math.exp(-0.5 * z * z - out.log) / ROOT_2PI;
  out.byLocation = -mills / sd;
  out.byLogSpread = (-mills * z * square) / (sd * sd);
}

const ROOT_2PI = Math.sqrt(2 * Math.PI);
/** From here on Φ is 1 to the last digit. */
const CERTAIN = 8.3;

const part = (): PartLog => ({ log: 0, byLocation: 0, byLogSpread: 0 });
const one = part();
const two = part();
const mixed: MixedLogs = { log: 0, second: 0 };

/** Minus the log-likelihood at x = (location, log spread). */
function singleCost(points: Points, x: Float64Array, gradient: Float64Array): number {
  const location = x[0]!;
  const square = Math.exp(2 * x[1]!);
  let total = 0;
  gradient.fill(0);
  for (let i = 0; i < points.value.length; i++) {
    const sd = Math.sqrt(square + points.variance[i]!);
    densityOf(points.value[i]! - location, sd, square, one);
    total -= one.log;
    gradient[0]! -= one.byLocation;
    gradient[1]! -= one.byLogSpread;
    if (!Number.isFinite(points.largest[i]!)) continue;
    metOf(points.largest[i]! - location, sd, square, one);
    total += one.log;
    gradient[0]! += one.byLocation;
    gradient[1]! += one.byLogSpread;
  }
  return total;
}

/** The same at x = (location, log spread, log step, logit of the share); Infinity outside what a mixture may be. */
function mixtureCost(points: Points, leastSpread: number, x: Float64Array, gradient: Float64Array): number {
  const [location, logSpread, logStep, logit] = x as unknown as readonly [number, number, number, number];
  const spread = Math.exp(logSpread);
  const step = Math.exp(logStep);
  const share = 1 / (1 + Math.exp(-logit));
  if (spread < leastSpread || share > 0.5 || share < 1e-4) return Number.POSITIVE_INFINITY;
  const square = spread * spread;
  gradient.fill(0);
  let total = 0;
  const add = (sign: 1 | -1) => {
    mixLogs(one.log, two.log, share, mixed);
    const { second } = mixed;
    total -= sign * mixed.log;
    gradient[0]! -= sign * ((1 - second) * one.byLocation + second * two.byLocation);
    gradient[1]! -= sign * ((1 - second) * one.byLogSpread + second * two.byLogSpread);
    gradient[2]! -= sign * second * two.byLocation * step;
    gradient[3]! -= sign * (second - share);
  };
  for (let i = 0; i < points.value.length; i++) {
    const sd = Math.sqrt(square + points.variance[i]!);
    const distance = points.value[i]! - location;
    densityOf(distance, sd, square, one);
    densityOf(distance - step, sd, square, two);
    add(1);
    if (!Number.isFinite(points.largest[i]!)) continue;
    const room = points.largest[i]! - location;
    metOf(room, sd, square, one);
    metOf(room - step, sd, square, two);
    add(-1);
  }
  return total;
}
