/**
 * The unsafe-at risk from a distribution of rates. Not every component reaches the limit: another removal may come
 * first, and then it comes to the slow ones, so each rate is weighted by its chance of reaching the limit before any
 * other removal. Where wear bends as a + b·hours^c, the rate that counts is the local one at the limit.
 */
import { power } from "../math/power.ts";
import type { RateParameters } from "../wear/rate-families.ts";
import { reachingAbove, type WayToLimit } from "./reaching-above.ts";
import { unsafeBeforeSeen, usableMarginMm } from "./unsafe-risk.ts";

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

/** What rates mean at the limit: whether they reach it, and how fast they are then. */
export interface AtLimit {
  readonly way: WayToLimit;
  /** Local rate at the limit, mm per hour, of a rate in mm per 1000 h (or per 1000^c h^c), and the rate that has it. */
  readonly localPerHour: (rate: number) => number;
  readonly rateOfLocal: (perHour: number) => number;
}

/** What rates mean at a limit, where wear is intercept + rate·hours^exponent. */
export function atLimit({ interceptMm }: RateParameters, setting: UnsafeSetting, exponent: number): AtLimit {
  const toLimitMm = Math.max(1e-9, setting.replaceAtMm - interceptMm);
  // d(b·h^c)/dh at b·h^c = R − a: c·b^(1/c)·(R − a)^((c − 1)/c).
  const factor = exponent * power(toLimitMm, (exponent - 1) / exponent);
  return {
    way: { toLimitMm, exponent, hazardPerHour: setting.otherRemovalsPerHour },
    localPerHour: (rate) => (factor * power(rate, 1 / exponent)) / 1000,
    rateOfLocal: (perHour) => power((1000 * perHour) / factor, exponent),
  };
}

/** Unsafe before it is seen, per component that reaches the limit, at hours between looks (lateness included). */
export function unsafeRiskOf(
  parts: readonly RatePart[],
  setting: UnsafeSetting,
  spacingH: number,
  exponent = 1,
): number {
  const { parameters } = parts[0]!;
  const { way, rateOfLocal } = atLimit(parameters, setting, exponent);
  const marginMm = usableMarginMm(setting.replaceAtMm, setting.unsafeAtMm, parameters.measurementSdMm);
  const reaching = parts.map(({ parameters: own }) => reachingAbove(own, way));
  const above = (rate: number) =>
    reaching.reduce((sum, shareAbove, k) => sum + parts[k]!.share * shareAbove(rate), 0);
  const shareAbove = (perHour: number) => above(rateOfLocal(perHour));
  return unsafeBeforeSeen(shareAbove, marginMm, setting.beyondLimitFactor, spacingH, setting.detectionChance);
}
