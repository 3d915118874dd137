/**
 * Is the rate of events changing? Tests of a constant rate against a trend, for one or several systems.
 *
 * Times are operating time (component or fleet hours) from 0; the observation of a system ends at a stated time (time
 * truncated) or at its last event (event truncated; that event then doesn't count in the tests, being the end itself).
 */
import { chiSquaredCdf, standardNormalCdf } from "../math/distributions.ts";

export interface ObservedSystem {
  readonly eventHours: readonly number[];
  /** End of observation in hours, or null: the last event was the end. */
  readonly observedHours: number | null;
}

export type TrendTest =
  | {
      readonly kind: "tested";
      readonly statistic: number;
      /** Events that count. */
      readonly events: number;
      /** One-sided: small where events come ever faster. */
      readonly pWorsening: number;
      /** One-sided: small where events come ever more slowly. */
      readonly pImproving: number;
      readonly pTwoSided: number;
    }
  | { readonly kind: "too-few-events"; readonly events: number; readonly needed: number };

/** Fewest events for which the normal approximation of Laplace's test is used. */
const LAPLACE_NEEDS = 3;

/**
 * Laplace's test: z = (Σt - ΣrT/2) / √(ΣrT²/12), standard normal where the rate is constant. Positive: worsening.
 *
 * Source: Ascher and Feingold (1984), Repairable Systems Reliability; one system: NIST/SEMATECH e-Handbook 8.2.3.4.
 * Checked: tests/trend/trend-tests.test.ts (NIST case study 1; MIL-HDBK-189 example)
 */
export function laplaceTest(systems: readonly ObservedSystem[]): TrendTest {
  let sum = 0;
  let expected = 0;
  let variance = 0;
  let events = 0;
  for (const { hours, endHours } of systems.map(countedEvents)) {
    events += hours.length;
    sum += hours.reduce((total, hour) => total + hour, 0);
    expected += (hours.length * endHours) / 2;
    variance += (hours.length * endHours ** 2) / 12;
  }
  if (events < LAPLACE_NEEDS) return { kind: "too-few-events", events, needed: LAPLACE_NEEDS };
  const z = (sum - expected) / Math.sqrt(variance);
  const below = standardNormalCdf(z);
  const above = standardNormalCdf(-z);
  return tested(z, events, above, below);
}

/**
 * The Military Handbook test: 2·Σln(T/t) is χ² with twice as many degrees of freedom as events where the rate is
 * constant; exact for any number of events, and strongest against a power-law trend. Large: improving.
 *
 * Source: MIL-HDBK-189 (1981); NIST/SEMATECH e-Handbook 8.2.3.4.
 */
export function militaryHandbookTest(systems: readonly ObservedSystem[]): TrendTest {
  let statistic = 0;
  let events = 0;
  for (const { hours, endHours } of systems.map(countedEvents)) {
    events += hours.length;
    statistic += 2 * hours.reduce((total, hour) => total + Math.log(endHours / hour), 0);
  }
  if (events < 1) return { kind: "too-few-events", events, needed: 1 };
  const below = chiSquaredCdf(statistic, 2 * events);
  return tested(statistic, events, below, 1 - below);
}

const tested = (statistic: number, events: number, pWorsening: number, pImproving: number): TrendTest => ({
  kind: "tested",
  statistic,
  events,
  pWorsening,
  pImproving,
  pTwoSided: Math.min(1, 2 * Math.min(pWorsening, pImproving)),
});

/** The events that count, ascending, and when observation ended. */
export function countedEvents(system: ObservedSystem): { hours: readonly number[]; endHours: number } {
  const sorted = [...system.eventHours].sort((a, b) => a - b);
  const endHours = system.observedHours ?? sorted.at(-1) ?? 0;
  const hours = system.observedHours === null ? sorted.slice(0, -1) : sorted;
  if (sorted.some((hour) => !(hour > 0 && hour <= endHours))) {
    throw new RangeError("event hours must be over 0 and not after the end of observation");
  }
  return { hours, endHours };
}
