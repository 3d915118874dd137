/**
 * Cumulative incidence by failure mode with the others as competing (Aalen-Johansen): the chance of each mode by some
 * hours. One minus Kaplan-Meier of a mode alone overstates it, since components removed for another mode can't have it.
 *
 * Source: Aalen and Johansen (1978), Scand. J. Statist. 5, 141-150; Klein and Moeschberger (2003), section 4.7.
 * Checked: tests/life/cumulative-incidence.test.ts against R survival (mgus2).
 */
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
}

export interface CumulativeIncidence {
  readonly modes: readonly string[];
  readonly steps: readonly IncidenceStep[];
  /** The chances are given that these hours were reached; 0: from new. */
  readonly givenHours: number;
}

/** Modes in the order of their first event. With late entry the risk set may empty early: the steps then begin after it. */
export function cumulativeIncidence(lives: readonly ModeLife[]): CumulativeIncidence {
  const modes = [...new Set(lives.flatMap((life) => (life.mode === null ? [] : [life.mode])))];
  const times = [...new Set(lives.flatMap((life) => (life.mode === null ? [] : [life.hours])))].sort(
    (a, b) => a - b,
  );
  let givenHours = lives.reduce((least, life) => Math.min(least, life.entryHours), Number.POSITIVE_INFINITY);
  if (!Number.isFinite(givenHours)) givenHours = 0;
  let survival = 1;
  let incidence = modes.map(() => 0);
  let steps: IncidenceStep[] = [];
  for (const [k, hours] of times.entries()) {
    const { atRisk, events } = riskAt(lives, hours, modes);
    const all = events.reduce((sum, count) => sum + count, 0);
    incidence = incidence.map((value, m) => value + (survival * events[m]!) / atRisk);
    survival *= 1 - all / atRisk;
    steps.push({ hours, atRisk, survival, incidence });
    // All at risk had an event although others come later: survival would stay at 0 for ever.
    if (all === atRisk && k < times.length - 1) {
      givenHours = hours;
      survival = 1;
      incidence = modes.map(() => 0);
      steps = [];
    }
  }
  return { modes, steps, givenHours };
}

function riskAt(
  lives: readonly ModeLife[],
  hours: number,
  modes: readonly string[],
): { atRisk: number; events: number[] } {
  let atRisk = 0;
  const events = modes.map(() => 0);
  for (const life of lives) {
    if (!(life.entryHours < hours && life.hours >= hours)) continue;
    const count = life.count ?? 1;
    atRisk += count;
    if (life.mode !== null && life.hours === hours) events[modes.indexOf(life.mode)]! += count;
  }
  return { atRisk, events };
}
