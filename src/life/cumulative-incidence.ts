/**
 * Cumulative incidence by failure mode with the others as competing (Aalen-Johansen): the chance of each mode by some
 * hours. One minus Kaplan-Meier of a mode alone overstates it, since components removed for another mode can't have it.
 *
 * Its variance is the sum over event times of what each time's hazards, multinomial with d(m) of n, contribute: at hazard h
 * of all modes, later incidence is proportional to the survival left, so it moves by -(F(t) - F)/(1 - h) with any event and
 * by S more with one of the mode itself. Written out in powers of F(t) the sums run along, whatever t.
 *
 * Source: Aalen and Johansen (1978), Scand. J. Statist. 5, 141-150; Klein and Moeschberger (2003), section 4.7.
 * Checked: tests/life/cumulative-incidence.test.ts against R survival (mgus2), chances, standard errors and bounds.
 */
import { standardNormalQuantile } from "../math/distributions.ts";
import { power } from "../math/power.ts";

export interface ModeLife {
  /** Hours at which observation began; 0: from new. */
  readonly entryHours: number;
  /** Hours of the event, or of the last look. */
  readonly hours: number;
  /** Which mode ended it; null: still running. */
  readonly mode: string | null;
  readonly count?: number;
}

export interface IncidenceStep {
  readonly hours: number;
  readonly atRisk: number;
  /** Chance of no event of any mode. */
  readonly survival: number;
  /** Chance of each mode by these hours, in the order of `modes`. */
  readonly incidence: readonly number[];
  /** Of each chance, lives taken as independent; in the order of `modes`. */
  readonly standardError: readonly number[];
}

export interface CumulativeIncidence {
  readonly modes: readonly string[];
  readonly steps: readonly IncidenceStep[];
  /** The chances are given that these hours were reached; 0: from new. */
  readonly givenHours: number;
  /** Chance of each mode by its last event if no other mode took any component off: overstated, shown for that. */
  readonly alone: readonly number[];
}

/** Modes in the order of their first event. With late entry the risk set may empty early: the steps then begin after it. */
export function cumulativeIncidence(lives: readonly ModeLife[]): CumulativeIncidence {
  const ended = lives.filter(({ mode }) => mode !== null);
  const modes = [...new Set(ended.map(({ mode }) => mode!))];
  const times = Float64Array.from(new Set(ended.map(({ hours }) => hours))).sort();
  let givenHours = lives.reduce((least, life) => Math.min(least, life.entryHours), Number.POSITIVE_INFINITY);
  if (!Number.isFinite(givenHours)) givenHours = 0;
  let survival = 1;
  let running = modes.map(started);
  let steps: IncidenceStep[] = [];
  const { atRisk: risks, events: eventsAt } = riskSets(lives, times, modes);
  for (const [k, hours] of times.entries()) {
    const atRisk = risks[k]!;
    const events = eventsAt[k]!;
    const all = events.reduce((sum, count) => sum + count, 0);
    running = running.map((before, m) => after(before, survival, events[m]!, all, atRisk));
    survival *= 1 - all / atRisk;
    const [incidence, standardError] = [running.map(({ chance }) => chance), running.map(standardErrorOf)];
    steps.push({ hours, atRisk, survival, incidence, standardError });
    // All at risk had an event although others come later: survival would stay at 0 for ever.
    if (all === atRisk && k < times.length - 1) {
      givenHours = hours;
      survival = 1;
      running = modes.map(started);
      steps = [];
    }
  }
  return { modes, steps, givenHours, alone: modes.map((_, m) => chanceAlone(risks, eventsAt, m)) };
}

/** Of one mode, the others as censoring: one minus the product-limit curve. */
function chanceAlone(atRisk: Float64Array, eventsAt: readonly Float64Array[], mode: number): number {
  let survival = 1;
  let chance = 0;
  for (const [k, events] of eventsAt.entries()) {
    const count = events[mode]!;
    if (count === 0) continue;
    // As above: after all at risk had the event, what comes later begins anew.
    if (survival === 0) [survival, chance] = [1, 0];
    chance += (survival * count) / atRisk[k]!;
    survival = count === atRisk[k] ? 0 : survival * (1 - count / atRisk[k]!);
  }
  return chance;
}

/** The chance of one mode so far, and the sums from which its variance is put together. */
interface Running {
  readonly chance: number;
  readonly own: number;
  readonly slope: number;
  readonly slopeTimesChance: number;
  readonly weight: number;
  readonly weightTimesChance: number;
  readonly weightTimesSquare: number;
}

const started = (): Running => ({
  chance: 0,
  own: 0,
  slope: 0,
  slopeTimesChance: 0,
  weight: 0,
  weightTimesChance: 0,
  weightTimesSquare: 0,
});

/** @param survival  just before these hours */
function after(before: Running, survival: number, events: number, all: number, atRisk: number): Running {
  const [hazard, hazardOfAll] = [events / atRisk, all / atRisk];
  const chance = before.chance + survival * hazard;
  const slope = (survival * hazard) / atRisk;
  // Where nobody is left, nothing comes later that could move.
  const weight = all === atRisk ? 0 : hazardOfAll / ((1 - hazardOfAll) * atRisk);
  return {
    chance,
    own: before.own + (survival ** 2 * hazard * (1 - hazard)) / atRisk,
    slope: before.slope + slope,
    slopeTimesChance: before.slopeTimesChance + slope * chance,
    weight: before.weight + weight,
    weightTimesChance: before.weightTimesChance + weight * chance,
    weightTimesSquare: before.weightTimesSquare + weight * chance ** 2,
  };
}

function standardErrorOf(sums: Running): number {
  const { chance, own, slope, slopeTimesChance, weight, weightTimesChance, weightTimesSquare } = sums;
  const variance =
    own -
    2 * (chance * slope - slopeTimesChance) +
    chance ** 2 * weight -
    2 * chance * weightTimesChance +
    weightTimesSquare;
  return Math.sqrt(Math.max(0, variance));
}

/**
 * Pointwise two-sided bounds of a chance, symmetric on the log(-log) scale, so that they stay between 0 and 1; null at 0,
 * at 1 and without scatter, where that scale has none.
 *
 * Source: Kalbfleisch and Prentice (2002), The Statistical Analysis of Failure Time Data, second edition, chapters 1 and 8.
 */
export function incidenceBounds(
  chance: number,
  standardError: number,
  confidence: number,
): { lower: number | null; upper: number | null } {
  if (!(chance > 0 && chance < 1 && standardError > 0)) return { lower: null, upper: null };
  const z = standardNormalQuantile((1 + confidence) / 2);
  const factor = Math.exp((z * standardError) / (chance * -Math.log(chance)));
  return { lower: power(chance, factor), upper: power(chance, 1 / factor) };
}

/** Lives at risk just before each of some hours in order, and events of each mode there. */
function riskSets(
  lives: readonly ModeLife[],
  times: Float64Array,
  modes: readonly string[],
): { atRisk: Float64Array; events: Float64Array[] } {
  const atRisk = new Float64Array(times.length + 1);
  const events = Array.from(times, () => new Float64Array(modes.length));
  for (const life of lives) {
    // At risk at the hours above its entry, up to its own. One that was only looked at as it entered never was.
    const [from, to] = [firstAbove(times, life.entryHours), firstAbove(times, life.hours)];
    if (from >= to) continue;
    atRisk[from]! += countOf(life);
    atRisk[to]! -= countOf(life);
    const mode = life.mode === null ? -1 : modes.indexOf(life.mode);
    if (mode >= 0) events[to - 1]![mode]! += countOf(life);
  }
  for (let k = 1; k < times.length; k++) atRisk[k]! += atRisk[k - 1]!;
  return { atRisk, events };
}

/** Place of the first of some values in order that is above another. */
function firstAbove(values: Float64Array, value: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! > value) high = middle;
    else low = middle + 1;
  }
  return low;
}

const countOf = ({ count = 1 }: ModeLife): number => count;
