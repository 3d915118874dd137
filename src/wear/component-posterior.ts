/**
 * What one component's own readings, together with its group's rates, say about its rate: the posterior of its rate b is the
 * group's distribution times exp(Q·b − ½P·b²) (decision-likelihood.ts); given b, its offset u is normal. The group's
 * parameters are taken as known.
 */
import { normalCdfInSums } from "../math/tabulated-normal.ts";
import type { ComponentSums } from "./component-sums.ts";
import type { RateParameters } from "./rate-families.ts";
import { lognormalMode } from "./rate-integrals.ts";

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
/** So many standard deviations to either side of the mode. */
const WIDTHS = 7;

type Writable<T> = { -readonly [K in keyof T]: T[K] };

const emptyPosterior = (): Writable<ComponentPosterior> => ({
  rates: new Float64Array(POINTS),
  weights: new Float64Array(POINTS),
  interceptMm: new Float64Array(POINTS),
  interceptSdMm: 0,
  measurementSdMm: 0,
});

/** Posterior of component i (its place in the sums) under the group's fit. */
export const componentPosterior = (
  sums: ComponentSums,
  i: number,
  parameters: RateParameters,
): ComponentPosterior => fillPosterior(emptyPosterior(), sums, i, parameters);

/** Where posteriors that nobody keeps are written, one after another: new arrays would take longer than what they hold. */
const passing = emptyPosterior();

/** `chanceOver` of one component's posterior, for lists of thousands. */
export const chanceOverOf = (
  sums: ComponentSums,
  i: number,
  parameters: RateParameters,
  hours: number,
  limitMm: number,
  reading: boolean,
): number => chanceOver(fillPosterior(passing, sums, i, parameters), hours, limitMm, reading);

function fillPosterior(
  to: Writable<ComponentPosterior>,
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
  if (parameters.family === "lognormal") fillLognormal(to, p, q, parameters);
  else fillNormal(to, p, q, parameters);
  let sum = 0;
  for (let k = 0; k < POINTS; k++) sum += to.weights[k]!;
  // u given b: shrunk mean residual, n·τ²/(σ² + n·τ²).
  const shrink = meanWeight * interceptSdMm ** 2;
  for (let k = 0; k < POINTS; k++) {
    to.weights[k]! /= sum;
    to.interceptMm[k] = interceptMm + shrink * (residual - to.rates[k]! * h);
  }
  to.interceptSdMm = interceptSdMm * Math.sqrt(Math.max(0, 1 - shrink));
  to.measurementSdMm = measurementSdMm;
  return to;
}

type Rates = Pick<ComponentPosterior, "rates" | "weights">;

/** Rates about the posterior's mode, evenly spaced in their logarithm: each is the one before times a constant. */
function fillLognormal(
  { rates, weights }: Rates,
  p: number,
  q: number,
  { location, spread }: RateParameters,
): void {
  const { at, width } = lognormalMode(p, q, location, spread);
  const step = (width * WIDTHS * 2) / (POINTS - 1);
  const ratio = Math.exp(spread * step);
  let z = at - width * WIDTHS;
  let b = Math.exp(location + spread * z);
  for (let k = 0; k < POINTS; k++) {
    rates[k] = b;
    weights[k] = q * b - 0.5 * p * b * b - 0.5 * z * z;
    z += step;
    b *= ratio;
  }
  let largest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < POINTS; k++) if (weights[k]! > largest) largest = weights[k]!;
  for (let k = 0; k < POINTS; k++) weights[k] = Math.exp(weights[k]! - largest);
}

/** The same for normal rates, evenly spaced above zero: there each weight's ratio to the one before changes by a constant. */
function fillNormal(
  { rates, weights }: Rates,
  p: number,
  q: number,
  { location, spread }: RateParameters,
): void {
  const s = Math.max(spread, 1e-9);
  const sd = s / Math.sqrt(1 + p * s * s);
  const centre = location + ((q - p * location) * s * s) / (1 + p * s * s);
  const from = Math.max(0, centre - WIDTHS * sd);
  const to = Math.max(centre + WIDTHS * sd, from + WIDTHS * sd);
  const step = (to - from) / POINTS;
  const inSd = step / sd;
  const start = (from + 0.5 * step - centre) / sd;
  // Weights relative to the first: where that lies far up the rising side, they come out large, and are divided later.
  let ratio = Math.exp(-inSd * (start + 0.5 * inSd));
  const change = Math.exp(-inSd * inSd);
  let weight = 1;
  for (let k = 0; k < POINTS; k++) {
    rates[k] = from + (k + 0.5) * step;
    weights[k] = weight;
    weight *= ratio;
    ratio *= change;
  }
}

/** The sums are no closer than this, so a chance below it is given as it: small, but never none. */
const LEAST_CHANCE = 1e-15;

/** Chance that the wear itself, or with `reading` a reading of it, is at or over the limit at these hours. */
export function chanceOver(
  { rates, weights, interceptMm, interceptSdMm, measurementSdMm }: ComponentPosterior,
  hours: number,
  limitMm: number,
  reading: boolean,
): number {
  const sd = Math.max(Math.sqrt(interceptSdMm ** 2 + (reading ? measurementSdMm ** 2 : 0)), 1e-12);
  const thousands = hours / 1000;
  let over = 0;
  for (let k = 0; k < rates.length; k++)
    over += weights[k]! * normalCdfInSums((interceptMm[k]! + rates[k]! * thousands - limitMm) / sd);
  return Math.max(over, LEAST_CHANCE);
}
