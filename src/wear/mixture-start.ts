/**
 * Where the search for a two-part mixture begins: the mixture of the components' own rates, each with its standard error
 * and truncated where it entered late, which is quick to fit.
 */
import { minimiseWithGradient } from "../math/minimise.ts";
import { tabulatedLogNormalCdf, tabulatedNormalCdf } from "../math/tabulated-normal.ts";
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
  let best = { value: single.value - WORTH_A_FIT, at: null as Float64Array | null };
  for (const share of [0.05, 0.15, 0.35]) {
    const start = [
      location - share * spread,
      Math.log(0.7 * spread),
      Math.log(2 * spread),
      Math.log(share / (1 - share)),
    ];
    const found = minimiseWithGradient((x, gradient) => mixtureCost(points, spread, x, gradient), start, {
      tolerance: 1e-8,
      maxIterations: 100,
    });
    if (found.value < best.value) best = { value: found.value, at: found.at };
  }
  return best.at;
}

/**
 * What may be a mixture of two parts. They can't collapse onto single components, nor be wider than twice the single fit that
 * they divide: the likelihood of rates that were met only below a limit hardly falls towards an endless spread. The fast part is
 * the smaller one.
 *
 * @param whole   spread of the single fit
 * @param spread  of each part
 */
export const isMixtureOf = (whole: number, spread: number, share: number): boolean =>
  spread >= 0.1 * whole && spread <= 2 * whole && share >= 1e-4 && share <= 0.5;

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

const part: PartLog = { log: 0, byLocation: 0, byLogSpread: 0 };
const fastPart: PartLog = { log: 0, byLocation: 0, byLogSpread: 0 };
const mixed: MixedLogs = { log: 0, second: 0 };

/** Minus the log-likelihood at x = (location, log spread). */
function singleCost(points: Points, x: Float64Array, gradient: Float64Array): number {
  const location = x[0]!;
  const square = Math.exp(2 * x[1]!);
  let total = 0;
  gradient.fill(0);
  for (let i = 0; i < points.value.length; i++) {
    const sd = Math.sqrt(square + points.variance[i]!);
    densityOf(points.value[i]! - location, sd, square, part);
    total -= part.log;
    gradient[0]! -= part.byLocation;
    gradient[1]! -= part.byLogSpread;
    if (!Number.isFinite(points.largest[i]!)) continue;
    metOf(points.largest[i]! - location, sd, square, part);
    total += part.log;
    gradient[0]! += part.byLocation;
    gradient[1]! += part.byLogSpread;
  }
  return total;
}

/** Below so many standard deviations a chance is taken by its logarithm, which keeps its digits. */
const FAR_BELOW = -5;
/** A product of many factors is turned into a logarithm before it leaves the range of numbers. */
const LARGE = 1e100;

/** The same at x = (location, log spread, log step, logit of the share); Infinity outside what a mixture may be. */
function mixtureCost(points: Points, whole: number, x: Float64Array, gradient: Float64Array): number {
  const [location, logSpread, logStep, logit] = x as unknown as readonly [number, number, number, number];
  const spread = Math.exp(logSpread);
  const step = Math.exp(logStep);
  const share = 1 / (1 + Math.exp(-logit));
  if (!isMixtureOf(whole, spread, share)) return Number.POSITIVE_INFINITY;
  const square = spread * spread;
  let [byLocation, byLogSpread, byStep, byLogit] = [0, 0, 0, 0];
  let total = 0;
  // Of densities and chances to be met: one logarithm for many.
  let factors = 1;
  for (let i = 0; i < points.value.length; i++) {
    const perSd = 1 / Math.sqrt(square + points.variance[i]!);
    const ofSpread = square * perSd * perSd;
    // Distances from the middles of both parts, the larger density taken out.
    const one = (points.value[i]! - location) * perSd;
    const two = one - step * perSd;
    const ahead = 0.5 * (one * one - two * two);
    const smaller = Math.exp(-Math.abs(ahead));
    const first = (1 - share) * (ahead > 0 ? smaller : 1);
    const second = share * (ahead > 0 ? 1 : smaller);
    const fast = second / (first + second);
    total += ahead > 0 ? 0.5 * two * two : 0.5 * one * one;
    factors *= (first + second) * perSd;
    byLocation -= (one - fast * step * perSd) * perSd;
    byLogSpread -= ((1 - fast) * one * one + fast * two * two - 1) * ofSpread;
    byStep -= fast * two * perSd;
    byLogit -= fast;
    // The chance to be met: near enough to 1 in most.
    const room = (points.largest[i]! - location) * perSd;
    const fastRoom = room - step * perSd;
    if (fastRoom > CERTAIN) {
      byLogit += share;
    } else if (room < FAR_BELOW) {
      metOf(room / perSd, 1 / perSd, square, part);
      metOf(fastRoom / perSd, 1 / perSd, square, fastPart);
      mixLogs(part.log, fastPart.log, share, mixed);
      total += mixed.log;
      byLocation += (1 - mixed.second) * part.byLocation + mixed.second * fastPart.byLocation;
      byLogSpread += (1 - mixed.second) * part.byLogSpread + mixed.second * fastPart.byLogSpread;
      byStep += mixed.second * fastPart.byLocation;
      byLogit += mixed.second;
    } else {
      const fastMet = share * tabulatedNormalCdf(fastRoom);
      const met = (1 - share) * tabulatedNormalCdf(room) + fastMet;
      const edge = ((1 - share) * Math.exp(-0.5 * room * room)) / ROOT_2PI / met;
      const fastEdge = (share * Math.exp(-0.5 * fastRoom * fastRoom)) / ROOT_2PI / met;
      factors /= met;
      byLocation -= (edge + fastEdge) * perSd;
      byLogSpread -= (edge * room + fastEdge * fastRoom) * ofSpread;
      byStep -= fastEdge * perSd;
      byLogit += fastMet / met;
    }
    if (factors > LARGE || factors < 1 / LARGE) {
      total -= Math.log(factors);
      factors = 1;
    }
  }
  gradient.set([byLocation, byLogSpread, byStep * step, byLogit]);
  return total - Math.log(factors);
}
