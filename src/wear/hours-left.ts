/**
 * What one component's own readings, together with its group's rates, say about the hours it has left.
 *
 * The posterior of its rate b is the group's distribution times exp(Q·b − ½P·b²) (decision-likelihood.ts); given b, its
 * offset u is normal. The group's parameters are taken as known.
 */
import { standardNormalCdf } from "../math/distributions.ts";
import { findRoot } from "../math/find-root.ts";
import type { ComponentSums } from "./component-sums.ts";
import { type RateParameters, rateQuantile } from "./rate-families.ts";
import { lognormalMode } from "./rate-integrals.ts";

export interface HoursLeft {
  /** The component's number in the wear table. */
  readonly component: number;
  /** Hours from now until its wear (not a reading of it) is at the limit: median and bounds; 0 where it is past it. */
  readonly medianHours: number;
  readonly lowerHours: number;
  readonly upperHours: number;
  /** Chance that a reading at the next look is at or over the limit. */
  readonly overByNextLook: number;
  /** Posterior mean of its rate. */
  readonly rateMmPer1000Hours: number;
  /** Wear expected now. */
  readonly wearNowMm: number;
}

export interface NextLook {
  readonly hoursNow: number;
  readonly nextLookHours: number;
  readonly limitMm: number;
  /** Two-sided, for the hours left. __Default value:__ 0.90 */
  readonly confidence?: number;
}

/** The posterior of one component: equally spaced rates (or log rates) with weights, and the offset given each. */
export interface ComponentPosterior {
  readonly rates: Float64Array;
  readonly weights: Float64Array;
  /** Mean of a + u given each rate. */
  readonly interceptMm: Float64Array;
  readonly interceptSdMm: number;
  readonly measurementSdMm: number;
}

const POINTS = 81;

/** Posterior of component i (its place in the sums) under the group's fit. */
export function componentPosterior(
  sums: ComponentSums,
  i: number,
  parameters: RateParameters,
): ComponentPosterior {
  const { interceptMm, interceptSdMm, measurementSdMm } = parameters;
  const n = sums.count[i]!;
  const h = sums.meanHours[i]! / 1000;
  const inverse = 1 / measurementSdMm ** 2;
  const meanWeight = n / (measurementSdMm ** 2 + n * interceptSdMm ** 2);
  const residual = sums.meanWearMm[i]! - interceptMm;
  const p = (sums.hoursSquared[i]! / 1e6) * inverse + meanWeight * h * h;
  const q = (sums.hoursWear[i]! / 1000) * inverse + meanWeight * h * residual;
  const { rates, weights } = ratePosterior(p, q, parameters);
  // u given b: shrunk mean residual, n·τ²/(σ² + n·τ²).
  const shrink = meanWeight * interceptSdMm ** 2;
  return {
    rates,
    weights,
    interceptMm: rates.map((b) => interceptMm + shrink * (residual - b * h)),
    interceptSdMm: interceptSdMm * Math.sqrt(Math.max(0, 1 - shrink)),
    measurementSdMm,
  };
}

function ratePosterior(p: number, q: number, { family, location, spread }: RateParameters) {
  const rates = new Float64Array(POINTS);
  const logs = new Float64Array(POINTS);
  if (family === "lognormal") {
    const { at, width } = lognormalMode(p, q, location, spread);
    for (let k = 0; k < POINTS; k++) {
      const z = at + width * 7 * ((2 * k) / (POINTS - 1) - 1);
      const b = Math.exp(location + spread * z);
      rates[k] = b;
      logs[k] = q * b - 0.5 * p * b * b - 0.5 * z * z;
    }
  } else {
    const s = Math.max(spread, 1e-9);
    const sd = s / Math.sqrt(1 + p * s * s);
    const centre = location + ((q - p * location) * s * s) / (1 + p * s * s);
    const from = Math.max(0, centre - 7 * sd);
    const to = Math.max(centre + 7 * sd, from + 7 * sd);
    for (let k = 0; k < POINTS; k++) {
      const b = from + ((k + 0.5) / POINTS) * (to - from);
      rates[k] = b;
      logs[k] = -0.5 * ((b - centre) / sd) ** 2;
    }
  }
  const largest = logs.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const weights = logs.map((value) => Math.exp(value - largest));
  const sum = weights.reduce((total, value) => total + value, 0);
  return { rates, weights: weights.map((value) => value / sum) };
}

/** Chance that the wear itself, or with `reading` a reading of it, is at or over the limit at these hours. */
export function chanceOver(
  posterior: ComponentPosterior,
  hours: number,
  limitMm: number,
  reading: boolean,
): number {
  const extra = reading ? posterior.measurementSdMm : 0;
  const sd = Math.max(Math.hypot(posterior.interceptSdMm, extra), 1e-12);
  let over = 0;
  for (let k = 0; k < posterior.rates.length; k++) {
    const line = posterior.interceptMm[k]! + (posterior.rates[k]! * hours) / 1000;
    over += posterior.weights[k]! * standardNormalCdf((line - limitMm) / sd);
  }
  return over;
}

/** Hours left and the chance of being over by the next look, for component i (its place in the sums). */
export function hoursLeft(
  sums: ComponentSums,
  i: number,
  parameters: RateParameters,
  look: NextLook,
): HoursLeft {
  const posterior = componentPosterior(sums, i, parameters);
  const { hoursNow, limitMm } = look;
  const side = (1 - (look.confidence ?? 0.9)) / 2;
  // Beyond this a component of even the slowest one in a thousand is over.
  const room = limitMm + 8 * (parameters.interceptSdMm + Math.abs(parameters.interceptMm));
  const slowest = Math.max(rateQuantile(parameters, 1e-3) / 10, 1e-9);
  const far = hoursNow + (1000 * room) / slowest;
  const hoursWith = (chance: number) => {
    const beyond = (hours: number) => chanceOver(posterior, hours, limitMm, false) - chance;
    if (beyond(hoursNow) >= 0) return 0;
    const root = findRoot(beyond, hoursNow, far, 1e-7);
    return root.kind === "found" ? root.at - hoursNow : far - hoursNow;
  };
  const mean = (values: Float64Array) =>
    values.reduce((sum, value, k) => sum + value * posterior.weights[k]!, 0);
  const rate = mean(posterior.rates);
  return {
    component: sums.component[i]!,
    medianHours: hoursWith(0.5),
    lowerHours: hoursWith(side),
    upperHours: hoursWith(1 - side),
    overByNextLook: chanceOver(posterior, look.nextLookHours, limitMm, true),
    rateMmPer1000Hours: rate,
    wearNowMm: mean(posterior.interceptMm) + (rate * hoursNow) / 1000,
  };
}
