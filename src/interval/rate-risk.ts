/**
 * The unsafe-at risk from a distribution of rates. Not every component reaches the limit: another removal may come
 * first, and then it comes to the slow ones, so each rate is weighted by its chance of reaching the limit before any
 * other removal. Where wear bends as a + b·hours^c, the rate that counts is the local one at the limit.
 */

import { unitQuadrature } from "../math/gauss-legendre.ts";
import { power } from "../math/power.ts";
import type { RateParameters } from "../wear/rate-families.ts";
import { rateAbove, rateQuantile } from "../wear/rate-families.ts";
import { looksBeforeUnsafe, unsafeBeforeSeen, usableMarginMm } from "./unsafe-risk.ts";

/** The part's limits and how looks are made. */
export interface UnsafeSetting {
  readonly replaceAtMm: number;
  readonly unsafeAtMm: number;
  readonly beyondLimitFactor: number;
  readonly detectionChance: number;
  /** Removals for other reasons per flight hour: what may come before the limit. */
  readonly otherRemovalsPerHour: number;
}

/** A share of the components with one distribution of rates; shares sum to 1. */
export interface RatePart {
  readonly share: number;
  readonly parameters: RateParameters;
}

/** What one rate means: when it reaches the limit, how likely it gets there, and how fast it is then. */
interface AtLimit {
  /** Chance of reaching the limit before another removal; rate in mm per 1000 h (or per 1000^c h^c). */
  readonly reaches: (rate: number) => number;
  /** Local rate at the limit, mm per hour, and the rate that has it. */
  readonly localPerHour: (rate: number) => number;
  readonly rateOfLocal: (perHour: number) => number;
}

function atLimit({ interceptMm }: RateParameters, setting: UnsafeSetting, exponent: number): AtLimit {
  const toLimitMm = Math.max(1e-9, setting.replaceAtMm - interceptMm);
  const hazard = setting.otherRemovalsPerHour;
  const thousandHours = (rate: number) => power(toLimitMm / rate, 1 / exponent);
  // d(b·h^c)/dh at b·h^c = R − a: c·b^(1/c)·(R − a)^((c − 1)/c).
  const factor = exponent * power(toLimitMm, (exponent - 1) / exponent);
  return {
    reaches: (rate) => (hazard === 0 ? 1 : rate <= 0 ? 0 : Math.exp(-hazard * 1000 * thousandHours(rate))),
    localPerHour: (rate) => (factor * power(rate, 1 / exponent)) / 1000,
    rateOfLocal: (perHour) => power((1000 * perHour) / factor, exponent),
  };
}

const POINTS = 12;

/** Unsafe before it is seen, per component that reaches the limit, at hours between looks (lateness included). */
export function unsafeRiskOf(
  parts: readonly RatePart[],
  setting: UnsafeSetting,
  spacingH: number,
  exponent = 1,
): number {
  const { parameters } = parts[0]!;
  const limit = atLimit(parameters, setting, exponent);
  const marginMm = usableMarginMm(setting.replaceAtMm, setting.unsafeAtMm, parameters.measurementSdMm);
  const above = (rate: number) =>
    parts.reduce((sum, { share, parameters: own }) => sum + share * weightAbove(own, rate, limit.reaches), 0);
  const all = above(0);
  if (all === 0) return 0;
  const shareAbove = (perHour: number) => above(limit.rateOfLocal(perHour)) / all;
  return unsafeBeforeSeen(shareAbove, marginMm, setting.beyondLimitFactor, spacingH, setting.detectionChance);
}

/** The same as a plain mean over observed component rates with their weights. */
export function unsafeRiskObserved(
  rates: Float64Array,
  weights: Float64Array,
  parameters: RateParameters,
  setting: UnsafeSetting,
  spacingH: number,
  exponent = 1,
): number {
  const limit = atLimit(parameters, setting, exponent);
  const marginMm = usableMarginMm(setting.replaceAtMm, setting.unsafeAtMm, parameters.measurementSdMm);
  let risk = 0;
  let reached = 0;
  for (let i = 0; i < rates.length; i++) {
    const weight = weights[i]! * limit.reaches(rates[i]!);
    const looks = looksBeforeUnsafe(
      marginMm,
      limit.localPerHour(rates[i]!) * setting.beyondLimitFactor,
      spacingH,
    );
    risk += weight * power(1 - setting.detectionChance, looks);
    reached += weight;
  }
  return reached > 0 ? risk / reached : 0;
}

/**
 * Weight of the rates above one: the tail's own mass times the mean weight within it, so that a thin tail keeps its
 * digits. Within the tail the mean is taken over equal shares of it.
 */
function weightAbove(parameters: RateParameters, rate: number, reaches: (rate: number) => number): number {
  const tail = rateAbove(parameters, rate);
  if (tail <= 0) return 0;
  const { nodes, weights } = unitQuadrature(POINTS);
  let mean = 0;
  for (let k = 0; k < POINTS; k++)
    mean += weights[k]! * reaches(rateQuantile(parameters, 1 - tail * nodes[k]!));
  return tail * mean;
}
