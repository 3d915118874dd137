/**
 * Power-law process for the events of one repairable system (or of a fleet on its cumulative hours):
 * expected events by t are λ·t^β. β > 1: events come ever faster. A non-homogeneous Poisson process.
 *
 * Three estimates of β go about under one name, so each is called by its variant:
 *   maximum likelihood       β = n/Σln(T/tᵢ)            (MIL-HDBK-189 prints this one)
 *   modified                 β = (n - 1)/Σln(T/tᵢ)      (NIST/SEMATECH e-Handbook 8.4.5.2; unbiased, time truncated)
 *   bias-corrected           the same number for time-truncated data; MIL-HDBK-189 uses it only in its fit test
 * Event-truncated data use n - 1 and n - 2. λ = n/T^β for each.
 */

import { chiSquaredQuantile, standardNormalQuantile } from "../math/distributions.ts";
import { power } from "../math/power.ts";
import { countedEvents, type ObservedSystem } from "./trend-tests.ts";

interface PowerLawEstimate {
  readonly shape: number;
  /** λ: expected events by 1 hour. */
  readonly scalePerHour: number;
  /** Events per 1000 hours at the end of observation: 1000·λ·β·T^(β-1). */
  readonly ratePer1000HAtEnd: number;
  readonly meanHoursBetweenAtEnd: number;
}

export type PowerLawFit =
  | {
      readonly kind: "fitted";
      readonly events: number;
      readonly endHours: number;
      readonly maximumLikelihood: PowerLawEstimate;
      readonly modified: PowerLawEstimate;
      /** Two-sided exact limits of the shape at the stated confidence. */
      readonly shapeLower: number;
      readonly shapeUpper: number;
      /** Approximate two-sided limits of the mean hours between events at the end; null where the formula has none. */
      readonly meanHoursBetweenLower: number | null;
      readonly meanHoursBetweenUpper: number | null;
      /** Cramér-von Mises statistic of the fit, with the bias-corrected shape; compare with MIL-HDBK-189's table. */
      readonly cramerVonMises: number;
    }
  | { readonly kind: "too-few-events"; readonly events: number; readonly needed: number }
  | { readonly kind: "all-at-the-end"; readonly events: number };

const NEEDS = 3;

/**
 * Power-law fit of one system's event hours.
 *
 * Limits of the shape: β̂·χ²(p; 2n)/(2n) (event truncated: 2(n - 1) degrees of freedom over 2n). Limits of the mean
 * hours between events are those of the NIST handbook for time-truncated data, with the modified estimate.
 * Source: MIL-HDBK-189 (1981), appendix C; NIST/SEMATECH e-Handbook of Statistical Methods 8.4.5.2.
 * Checked: tests/trend/power-law.test.ts
 */
export function fitPowerLaw(system: ObservedSystem, confidence: number): PowerLawFit {
  const { endHours } = countedEvents(system);
  const n = system.eventHours.length;
  if (n < NEEDS) return { kind: "too-few-events", events: n, needed: NEEDS };
  const sumLog = system.eventHours.reduce((sum, hour) => sum + Math.log(endHours / hour), 0);
  if (!(sumLog > 0)) return { kind: "all-at-the-end", events: n };
  const ended = system.observedHours === null ? 1 : 0;
  const maximumLikelihood = estimate(n / sumLog, n, endHours);
  const modified = estimate((n - 1 - ended) / sumLog, n, endHours);
  const tail = (1 - confidence) / 2;
  const degrees = 2 * (n - ended);
  const between = ended === 1 ? null : meanLimits(modified.meanHoursBetweenAtEnd, n, confidence);
  return {
    kind: "fitted",
    events: n,
    endHours,
    maximumLikelihood,
    modified,
    shapeLower: (maximumLikelihood.shape * chiSquaredQuantile(tail, degrees)) / (2 * n),
    shapeUpper: (maximumLikelihood.shape * chiSquaredQuantile(1 - tail, degrees)) / (2 * n),
    meanHoursBetweenLower: between?.lower ?? null,
    meanHoursBetweenUpper: between?.upper ?? null,
    cramerVonMises: cramerVonMises(system, modified.shape),
  };
}

function estimate(shape: number, n: number, endHours: number): PowerLawEstimate {
  // n/T^β·β·T^(β-1) = n·β/T: the powers cancel, so nothing overflows.
  const ratePerHour = (n * shape) / endHours;
  return {
    shape,
    scalePerHour: n / power(endHours, shape),
    ratePer1000HAtEnd: 1000 * ratePerHour,
    meanHoursBetweenAtEnd: 1 / ratePerHour,
  };
}

/** NIST's limits: no upper one where so few events leave the square at or below zero. */
function meanLimits(mean: number, n: number, confidence: number): { lower: number; upper: number | null } {
  const z = standardNormalQuantile((1 + confidence) / 2);
  const product = mean * n * (n - 1);
  const below = n + z ** 2 / 4 + Math.sqrt((n * z ** 2) / 2 + power(z, 4) / 16);
  const above = n - z * Math.sqrt(n / 2);
  return { lower: product / below ** 2, upper: above > 0 ? product / above ** 2 : null };
}

/** 1/(12M) + Σ((tᵢ/T)^β - (2i - 1)/(2M))² over the events that count. */
function cramerVonMises(system: ObservedSystem, shape: number): number {
  const { hours, endHours } = countedEvents(system);
  const m = hours.length;
  return hours.reduce(
    (sum, hour, i) => sum + (power(hour / endHours, shape) - (2 * i + 1) / (2 * m)) ** 2,
    1 / (12 * m),
  );
}
