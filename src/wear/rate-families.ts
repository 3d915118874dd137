/**
 * The distribution of components' wear rates, and what it says about readings: the parameters that every risk is a
 * function of.
 *
 *   reading at h = intercept + u + rate·h/1000 + e,  u ~ N(0, interceptSd²),  e ~ N(0, measurementSd²)
 *   lognormal:  log rate ~ N(location, spread²)
 *   normal:     rate ~ N(location, spread²) given rate > 0
 *
 * Rates are mm per 1000 flight hours; location is a logarithm of that (lognormal) or that itself (normal).
 */
import { standardNormalQuantile } from "../math/distributions.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import { lognormalBelow } from "./lognormal-below.ts";
import { normalBelow } from "./normal-below.ts";

export type RateFamily = "lognormal" | "normal";

export interface RateParameters {
  readonly family: RateFamily;
  readonly interceptMm: number;
  readonly interceptSdMm: number;
  readonly measurementSdMm: number;
  readonly location: number;
  readonly spread: number;
  /** Curves made of these very parameters so far; only where they are asked about again and again. */
  readonly curves?: KeptCurve[];
}

/** A smaller spread is taken for this one. */
export const SMALLEST_SPREAD = 1e-12;

/** P(rate ≤ r), r in mm per 1000 h. */
export function rateCdf(parameters: RateParameters, rateMmPer1000Hours: number): number {
  if (!(rateMmPer1000Hours > 0)) return 0;
  if (parameters.family === "normal") return 1 - rateAbove(parameters, rateMmPer1000Hours);
  const spread = Math.max(parameters.spread, SMALLEST_SPREAD);
  return tabulatedNormalCdf((Math.log(rateMmPer1000Hours) - parameters.location) / spread);
}

/** P(rate > r): the tail itself, which keeps its digits where 1 − P(rate ≤ r) has none left. */
export function rateAbove(parameters: RateParameters, rateMmPer1000Hours: number): number {
  if (!(rateMmPer1000Hours > 0)) return 1;
  const { family, location } = parameters;
  const spread = Math.max(parameters.spread, SMALLEST_SPREAD);
  if (family === "lognormal") return tabulatedNormalCdf((location - Math.log(rateMmPer1000Hours)) / spread);
  return tabulatedNormalCdf((location - rateMmPer1000Hours) / spread) / tabulatedNormalCdf(location / spread);
}

/** The rate that a share p of components stays below, mm per 1000 h, 0 < p < 1. */
export function rateQuantile({ family, location, spread }: RateParameters, p: number): number {
  if (family === "lognormal") return Math.exp(location + spread * standardNormalQuantile(p));
  // From the upper tail, so that p near 1 keeps its digits.
  const above = (1 - p) * tabulatedNormalCdf(location / Math.max(spread, SMALLEST_SPREAD));
  return Math.max(0, location - spread * standardNormalQuantile(above));
}

/** Mean rate, mm per 1000 h. */
export function meanRate({ family, location, spread }: RateParameters): number {
  if (family === "lognormal") return Math.exp(location + spread ** 2 / 2);
  const k = location / Math.max(spread, SMALLEST_SPREAD);
  return location + (spread * Math.exp(-0.5 * k * k)) / Math.sqrt(2 * Math.PI) / tabulatedNormalCdf(k);
}

/** Standard deviation of a reading about intercept + rate·hours: component offset and measurement together. */
export const readingSdMm = (parameters: RateParameters): number =>
  Math.hypot(parameters.interceptSdMm, parameters.measurementSdMm);

/**
 * Chance that a reading at these hours is below the limit, for a component drawn from the distribution.
 *
 * ∫ f(b) Φ((limit − a − b·h)/ω) db = E F((limit − a − ω·Z)/h): averaged over the scatter, which is narrow, and not
 * over the rates, which are wide.
 */
export const survivalBelowLimit = (parameters: RateParameters, hours: number, limitMm: number): number =>
  survivalCurveBelow(parameters, limitMm)(hours);

/** A chance over hours; who has their logarithm already gives it too. */
export type CurveOverHours = (hours: number, logHours?: number) => number;

interface KeptCurve {
  readonly limitMm: number;
  readonly exponent: number;
  readonly curve: CurveOverHours;
}

/** The same parameters, of which each curve is prepared once. */
export const keepCurvesOf = (parameters: RateParameters): RateParameters => ({ ...parameters, curves: [] });

/** Whether it is. */
export const curvesKeptOf = ({ curves }: RateParameters): boolean => curves !== undefined;

/**
 * The same as a curve over hours: what does not depend on the hours is computed once.
 *
 * @param exponent  hours count as hours^exponent, in units in which 1000 h stay 1000. __Default value:__ 1
 */
export function survivalCurveBelow(
  parameters: RateParameters,
  limitMm: number,
  exponent = 1,
): CurveOverHours {
  const { curves } = parameters;
  if (curves === undefined) return curveBelow(parameters, limitMm, exponent);
  for (let k = 0; k < curves.length; k++) {
    const known = curves[k]!;
    if (known.limitMm === limitMm && known.exponent === exponent) return known.curve;
  }
  const curve = curveBelow(parameters, limitMm, exponent);
  curves.push({ limitMm, exponent, curve });
  return curve;
}

function curveBelow(parameters: RateParameters, limitMm: number, exponent: number): CurveOverHours {
  const { family, location } = parameters;
  const spread = Math.max(parameters.spread, SMALLEST_SPREAD);
  const roomMm = limitMm - parameters.interceptMm;
  const omegaMm = readingSdMm(parameters);
  const atStart = tabulatedNormalCdf(roomMm / Math.max(omegaMm, SMALLEST_SPREAD));
  const wear = { location, spread, roomMm, omegaMm, exponent };
  if (family === "lognormal") {
    const below = lognormalBelow(wear);
    return (hours, logHours) => (hours > 0 ? below(logHours ?? Math.log(hours)) : atStart);
  }
  const below = normalBelow(wear);
  const thousands = thousandsOn(exponent);
  return (hours, logHours) => (hours > 0 ? below(thousands(hours, logHours)) : atStart);
}

const LOG_1000 = Math.log(1000);

/** Thousands of hours on the clock of an exponent. */
export const thousandsOn = (exponent: number): ((hours: number, logHours?: number) => number) =>
  exponent === 1
    ? (hours) => hours / 1000
    : (hours, logHours) => (hours > 0 ? Math.exp(exponent * ((logHours ?? Math.log(hours)) - LOG_1000)) : 0);
