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
  const spread = new UnitSpread(units);
  let mean = 0;
  let poissonVariance = 0;
  const points: MeanCumulativePoint[] = [];
  const { hours: ages, unit } = eventsInOrder(units);
  for (let first = 0, next = 0; first < ages.length; first = next) {
    const hours = ages[first]!;
    while (next < ages.length && ages[next] === hours) next++;
    const atRisk = spread.moveTo(hours);
    const events = next - first;
    mean += events / atRisk;
    poissonVariance += events / atRisk ** 2;
    const variance = spread.take(unit.subarray(first, next));
    const standardError = Math.sqrt(variance);
    points.push({
      hours,
      events,
      atRisk,
      mean,
      standardError,
      poissonStandardError: Math.sqrt(poissonVariance),
    });
  }
  return points;
}

/** Ages of all events, ascending, and the unit of each; of one age, unit by unit. */
function eventsInOrder(units: readonly ObservedUnit[]): { hours: Float64Array; unit: Int32Array } {
  const hours = units.flatMap(({ eventHours }) => eventHours);
  const unit = units.flatMap(({ eventHours }, number) => eventHours.map(() => number));
  const order = Int32Array.from(hours, (_, event) => event).sort((a, b) => hours[a]! - hours[b]! || a - b);
  return {
    hours: Float64Array.from(order, (event) => hours[event]!),
    unit: Int32Array.from(order, (event) => unit[event]!),
  };
}

/**
 * The units' own sums of the robust variance, and the sum of their squares, carried from age to age: what all units at risk
 * share is kept once (`#shared`), so that an age costs its own events and not a look at every unit.
 */
class UnitSpread {
  readonly #units: readonly ObservedUnit[];
  readonly #byEntry: readonly number[];
  readonly #byEnd: readonly number[];
  #entered = 0;
  #left = 0;
  /** Σ of (d/r)/r so far, and what it was when each unit came under observation. */
  #shared = 0;
  readonly #sharedAtEntry: Float64Array;
  /** Σ of each unit's own dᵢ/r. */
  readonly #own: Float64Array;
  /** Over the units at risk, Σ of the sums; over all units, Σ of their squares. */
  #sum = 0;
  #squares = 0;

  constructor(units: readonly ObservedUnit[]) {
    this.#units = units;
    const order = units.map((_, i) => i);
    const entry = (i: number) => units[i]!.entryHours ?? 0;
    this.#byEntry = [...order].sort((i, j) => entry(i) - entry(j) || i - j);
    this.#byEnd = [...order].sort((i, j) => units[i]!.endHours - units[j]!.endHours || i - j);
    this.#sharedAtEntry = new Float64Array(units.length);
    this.#own = new Float64Array(units.length);
  }

  /** Units come under observation and leave it; gives how many are at risk. */
  moveTo(hours: number): number {
    for (; this.#entered < this.#units.length; this.#entered++) {
      const i = this.#byEntry[this.#entered]!;
      if (!((this.#units[i]!.entryHours ?? 0) < hours)) break;
      this.#sharedAtEntry[i] = this.#shared;
    }
    for (; this.#left < this.#units.length; this.#left++) {
      const i = this.#byEnd[this.#left]!;
      if (!(this.#units[i]!.endHours < hours)) break;
      this.#sum -= this.#sumOf(i);
    }
    return this.#entered - this.#left;
  }

  /** Takes the events of an age by their units, those of one unit together; gives the variance there. */
  take(units: Int32Array): number {
    const atRisk = this.#entered - this.#left;
    const step = units.length / atRisk / atRisk;
    // Every unit at risk loses a step: Σ(u − step)².
    this.#squares += step * (atRisk * step - 2 * this.#sum);
    this.#sum -= atRisk * step;
    this.#shared += step;
    for (let first = 0, next = 0; first < units.length; first = next) {
      const i = units[first]!;
      while (next < units.length && units[next] === i) next++;
      const before = this.#sumOf(i);
      const gain = (next - first) / atRisk;
      this.#own[i]! += gain;
      this.#squares += gain * (2 * before + gain);
      this.#sum += gain;
    }
    return Math.max(0, this.#squares);
  }

  #sumOf(i: number): number {
    return this.#own[i]! - (this.#shared - this.#sharedAtEntry[i]!);
  }
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
