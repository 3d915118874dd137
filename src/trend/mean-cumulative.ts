/** How many events a component has had by a given age, on average: the mean cumulative function. */

/** One component's events and the hours it was observed for; from `entryHours` (0 where left out) to `endHours`. */
export interface ObservedUnit {
  readonly entryHours?: number;
  readonly endHours: number;
  readonly eventHours: readonly number[];
}

export interface MeanCumulativePoint {
  readonly hours: number;
  readonly events: number;
  readonly atRisk: number;
  readonly mean: number;
  /** From the spread between units; holds whatever the dependence between events of one unit. */
  readonly standardError: number;
  /** As if events came as a Poisson process: √Σ d/r². */
  readonly poissonStandardError: number;
}

/**
 * Mean cumulative number of events, at each age at which there was one: Σ d/r over event ages, with d events among r
 * units then observed. A unit is observed in (entry, end]; one whose observation ends at an age is at risk there.
 * Several events of one unit at one age all count.
 *
 * Robust variance: Σ over units of {Σ over ages up to t of (Yᵢ/r)·(dᵢ - d/r)}².
 * Source: Nelson (1995), Confidence limits for recurrence data, Technometrics 37, 147-157; Lawless and Nadeau (1995),
 * Some simple robust methods for the analysis of recurrent events, Technometrics 37, 158-168.
 * Checked: tests/trend/mean-cumulative.test.ts (valve seats)
 */
export function meanCumulative(units: readonly ObservedUnit[]): MeanCumulativePoint[] {
  for (const unit of units) checkUnit(unit);
  const countsAt = new Map<number, Map<number, number>>();
  for (const [i, { eventHours }] of units.entries()) {
    for (const hours of eventHours) {
      const counts = countsAt.get(hours) ?? new Map<number, number>();
      countsAt.set(hours, counts.set(i, (counts.get(i) ?? 0) + 1));
    }
  }
  const ages = [...countsAt.keys()].sort((a, b) => a - b);
  const unitSums = new Float64Array(units.length);
  let mean = 0;
  let poissonVariance = 0;
  return ages.map((hours) => {
    const risks = units.map((unit) => isObserved(unit, hours));
    const counts = countsAt.get(hours)!;
    const atRisk = risks.filter(Boolean).length;
    const events = [...counts.values()].reduce((sum, count) => sum + count, 0);
    const jump = events / atRisk;
    mean += jump;
    poissonVariance += events / atRisk ** 2;
    units.forEach((_, i) => {
      if (risks[i]) unitSums[i]! += ((counts.get(i) ?? 0) - jump) / atRisk;
    });
    const variance = unitSums.reduce((sum, one) => sum + one * one, 0);
    return {
      hours,
      events,
      atRisk,
      mean,
      standardError: Math.sqrt(variance),
      poissonStandardError: Math.sqrt(poissonVariance),
    };
  });
}

const isObserved = ({ entryHours = 0, endHours }: ObservedUnit, hours: number): boolean =>
  entryHours < hours && hours <= endHours;

function checkUnit(unit: ObservedUnit): void {
  const { entryHours = 0, endHours, eventHours } = unit;
  if (!(entryHours >= 0 && endHours >= entryHours && Number.isFinite(endHours))) {
    throw new RangeError(`invalid observation: (${entryHours}, ${endHours}]`);
  }
  const outside = eventHours.find((hours) => !isObserved(unit, hours));
  if (outside !== undefined) {
    throw new RangeError(`event at ${outside} h is outside the observation (${entryHours}, ${endHours}]`);
  }
}
