/**
 * Rates of the components that reach the limit. Not all do: another removal may come first, and then it comes to the
 * slow ones, so each rate is weighted by its chance of reaching the limit before any other removal.
 */
import { unitQuadrature } from "../math/gauss-legendre.ts";
import { type RateParameters, rateCdf, rateQuantile } from "../wear/rate-families.ts";
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

const POINTS = 12;

/** Unsafe before it is seen, per component that reaches the limit, at hours between looks (lateness included). */
export function unsafeRiskOf(parameters: RateParameters, setting: UnsafeSetting, spacingH: number): number {
  const marginMm = usableMarginMm(setting.replaceAtMm, setting.unsafeAtMm, parameters.measurementSdMm);
  const hazard = setting.otherRemovalsPerHour;
  const toLimitMm = Math.max(0, setting.replaceAtMm - parameters.interceptMm);
  const reaches = (ratePer1000: number) =>
    hazard === 0 ? 1 : ratePer1000 <= 0 ? 0 : Math.exp((-hazard * toLimitMm * 1000) / ratePer1000);
  const all = weightAbove(parameters, 0, reaches);
  if (all === 0) return 0;
  const shareAbove = (rateMmPerHour: number) => weightAbove(parameters, 1000 * rateMmPerHour, reaches) / all;
  return unsafeBeforeSeen(shareAbove, marginMm, setting.beyondLimitFactor, spacingH, setting.detectionChance);
}

/**
 * Weight of the rates above one: the tail's own mass times the mean weight within it, so that a thin tail keeps its
 * digits. Within the tail the mean is taken over equal shares of it.
 */
function weightAbove(
  parameters: RateParameters,
  ratePer1000: number,
  reaches: (ratePer1000: number) => number,
): number {
  const tail = 1 - rateCdf(parameters, ratePer1000);
  if (tail <= 0) return 0;
  const { nodes, weights } = unitQuadrature(POINTS);
  let mean = 0;
  for (let k = 0; k < POINTS; k++) {
    const rate = rateQuantile(parameters, 1 - tail * nodes[k]!);
    mean += weights[k]! * reaches(rate);
  }
  return tail * mean;
}
