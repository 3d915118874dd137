/**
 * Nonparametric maximum likelihood of survival from exact, interval-, left- and right-censored lives with late entry.
 *
 * With x_j the step of the cumulative hazard at place j, a life adds -(sum of x over the places it survived since entry)
 * and, for an event, log(1 - exp(-sum of x over the places it may lie in)): concave in x >= 0 also with late entry. It is
 * climbed by the self-consistency (EM) algorithm and finished by Newton steps on the places that carry mass; the places
 * left out are checked by the sign of their derivative, so the end is the true maximum and not where EM got slow.
 * Without intervals the first EM step is the Kaplan-Meier estimate. Source: Turnbull (1976), JRSS B 38, 290-295;
 * the finish is support reduction, Groeneboom, Jongbloed and Wellner (2008), Scand. J. Statist. 35, 385-399.
 */

import { climbToTop } from "./curve-climb.ts";
import { type Stretch, stretchLogLikelihood, sumOf, survivalBefore } from "./stretch.ts";

export interface StretchMaximum {
  readonly kind: "found" | "not-converged";
  /** Steps of the cumulative hazard; Infinity where survival falls to 0. */
  readonly steps: Float64Array;
  readonly logLikelihood: number;
  /** Greatest change of any mass by one more self-consistency step: 0 at the maximum. */
  readonly selfConsistency: number;
}

export function maximiseStretch(stretch: Stretch): StretchMaximum {
  const n = stretch.survived.length;
  const steps = new Float64Array(n);
  // Where nobody was seen to survive the last place, survival falls to 0 there, and events that may lie there do.
  const last = n - 1;
  const falls = stretch.survived[last] === 0 && stretch.events.some((event) => event.to === n);
  const events = falls ? stretch.events.filter((event) => event.to < n) : stretch.events;
  const open: Stretch = { ...stretch, events };
  const total =
    stretch.survived.reduce((most, w) => Math.max(most, w), 0) +
    events.reduce((sum, event) => sum + event.weight, 0);
  for (let j = 0; j < n; j++) steps[j] = 1 / n;
  if (falls) steps[last] = 0;
  for (let i = 0; i < 30; i++) selfConsistent(open, steps);
  // Without intervals the first step was the answer already.
  const exact = open.events.every((event) => event.to - event.from === 1);
  if (!exact) gatherIntoPeaks(open, steps);
  const ended = exact || climbToTop(open, steps, total);
  const moved = Float64Array.from(steps);
  selfConsistent(open, moved);
  if (falls) {
    steps[last] = Number.POSITIVE_INFINITY;
    moved[last] = Number.POSITIVE_INFINITY;
  }
  return {
    kind: ended ? "found" : "not-converged",
    steps,
    logLikelihood: stretchLogLikelihood(open, steps, falls ? last : n),
    selfConsistency: greatestMassChange(steps, moved),
  };
}

/** One self-consistency step, in place: expected events over expected lives at risk, place by place. */
function selfConsistent(stretch: Stretch, steps: Float64Array): void {
  const n = steps.length;
  const survival = survivalBefore(steps);
  const upTo = new Float64Array(n + 1);
  for (let j = 0; j < n; j++) upTo[j + 1] = upTo[j]! + steps[j]!;
  const perMass = new Float64Array(n + 1);
  const perMassLeft = new Float64Array(n + 1);
  for (const { from, to, weight } of stretch.events) {
    // Differences of running sums will do here, where the climb to the top follows; single places are exact.
    const sum = to - from === 1 ? steps[from]! : upTo[to]! - upTo[from]!;
    const chance = survival[from]! * -Math.expm1(-sum);
    if (!(chance > 0)) continue;
    const each = weight / chance;
    perMass[from]! += each;
    perMass[to]! -= each;
    perMassLeft[from]! += each * survival[to]!;
    perMassLeft[to]! -= each * survival[to]!;
  }
  for (let j = 0; j < n; j++) {
    if (j > 0) {
      perMass[j]! += perMass[j - 1]!;
      perMassLeft[j]! += perMassLeft[j - 1]!;
    }
    if (steps[j] === 0) continue;
    const hazard = -Math.expm1(-steps[j]!);
    const events = Math.max(0, survival[j]! * hazard * perMass[j]!);
    const atRisk = stretch.survived[j]! + Math.max(events, survival[j]! * perMass[j]! - perMassLeft[j]!);
    if (atRisk > 0) steps[j] = -Math.log1p(-Math.min(events / atRisk, 1 - 1e-15));
  }
}

/**
 * Few places carry mass at the maximum: each hill of the unfinished estimate is put on its highest place, and an event
 * left without any gets its least-survived one back. A place that is an event's only one stays.
 */
function gatherIntoPeaks(stretch: Stretch, steps: Float64Array): void {
  const alone = new Uint8Array(steps.length);
  for (const { from, to } of stretch.events) if (to - from === 1) alone[from] = 1;
  const before = Float64Array.from(steps);
  steps.fill(0);
  let start = 0;
  for (let j = 1; j <= before.length; j++) {
    const valley =
      j === before.length || (before[j]! > before[j - 1]! && (j < 2 || before[j - 1]! <= before[j - 2]!));
    if (!valley && alone[j] === 0 && alone[j - 1] === 0) continue;
    let peak = start;
    for (let k = start; k < j; k++) if (before[k]! > before[peak]!) peak = k;
    steps[peak] = sumOf(before, start, j);
    start = j;
  }
  for (const { from, to } of stretch.events) {
    if (sumOf(steps, from, to) > 0) continue;
    let best = from;
    for (let j = from; j < to; j++) if (stretch.survived[j]! < stretch.survived[best]!) best = j;
    steps[best] = Math.max(before[best]!, 1e-9);
  }
}

function greatestMassChange(a: Float64Array, b: Float64Array): number {
  const before = survivalBefore(a);
  const after = survivalBefore(b);
  let most = 0;
  for (let j = 0; j < a.length; j++) {
    const change = Math.abs(before[j]! - before[j + 1]! - (after[j]! - after[j + 1]!));
    if (change > most) most = change;
  }
  return most;
}
