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

import { addCurvature, choleskySolver } from "./curve-newton.ts";
import type { CurveSupport } from "./curve-support.ts";

/** One stretch of places with lives under observation throughout. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly survived: Float64Array;
  readonly events: readonly { from: number; to: number; weight: number }[];
}

export interface StretchMaximum {
  readonly kind: "found" | "not-converged";
  /** Steps of the cumulative hazard; Infinity where survival falls to 0. */
  readonly steps: Float64Array;
  readonly logLikelihood: number;
  /** Greatest change of any mass by one more self-consistency step: 0 at the maximum. */
  readonly selfConsistency: number;
}

/** Places from..to of the support as a problem of its own; events reaching over its end were settled before it. */
export function stretchOf(support: CurveSupport, from: number, to: number): Stretch {
  const events = support.events
    .filter((event) => event.from >= from && event.from < to)
    .map((event) => ({ from: event.from - from, to: Math.min(event.to, to) - from, weight: event.weight }));
  return { from, to, survived: support.survived.slice(from, to), events };
}

export function maximiseStretch(stretch: Stretch): StretchMaximum {
  const n = stretch.survived.length;
  const steps = new Float64Array(n);
  // Where nobody was seen to survive the last place, survival falls to 0 there, and events that may lie there do.
  const last = n - 1;
  const falls = stretch.survived[last] === 0 && stretch.events.some((event) => event.to === n);
  const events = falls ? stretch.events.filter((event) => event.to < n) : stretch.events;
  const open: Stretch = { ...stretch, events };
  const total = stretch.survived.reduce((sum, w) => sum + w, 0) + 1;
  for (let j = 0; j < n; j++) steps[j] = 1 / n;
  if (falls) steps[last] = 0;
  for (let i = 0; i < 60; i++) selfConsistent(open, steps);
  const most = steps.reduce((a, b) => Math.max(a, b), 0);
  for (let j = 0; j < n; j++) if (steps[j]! < 1e-6 * most) steps[j] = 0;
  repairEmpty(open, steps, most);
  const ended = climbToTop(open, steps, total);
  const moved = Float64Array.from(steps);
  selfConsistent(open, moved);
  if (falls) {
    steps[last] = Number.POSITIVE_INFINITY;
    moved[last] = Number.POSITIVE_INFINITY;
  }
  return {
    kind: ended ? "found" : "not-converged",
    steps,
    logLikelihood: value(open, steps, falls ? last : n),
    selfConsistency: greatestMassChange(steps, moved),
  };
}

/** One self-consistency step, in place: expected events over expected lives at risk, place by place. */
function selfConsistent(stretch: Stretch, steps: Float64Array): void {
  const n = steps.length;
  const survival = survivalBefore(steps);
  const perMass = new Float64Array(n + 1);
  const perMassLeft = new Float64Array(n + 1);
  for (const { from, to, weight } of stretch.events) {
    const chance = survival[from]! * -Math.expm1(-sumOf(steps, from, to));
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

/** An event whose places were all cut to 0 gets its best-covered place back. */
function repairEmpty(stretch: Stretch, steps: Float64Array, most: number): void {
  for (const { from, to } of stretch.events) {
    if (sumOf(steps, from, to) > 0) continue;
    let best = from;
    for (let j = from; j < to; j++) if (stretch.survived[j]! < stretch.survived[best]!) best = j;
    steps[best] = 1e-3 * most + 1e-9;
  }
}

/** Newton on the places that carry mass, adding the most promising place until none would help. */
function climbToTop(stretch: Stretch, steps: Float64Array, total: number): boolean {
  for (let round = 0; round < 500; round++) {
    if (!newtonOnPositive(stretch, steps, null)) return false;
    const slope = gradient(stretch, steps);
    let best = -1;
    for (let j = 0; j < steps.length; j++) {
      if (steps[j] === 0 && slope[j]! > 1e-9 * total && (best < 0 || slope[j]! > slope[best]!)) best = j;
    }
    if (best < 0) return true;
    if (!newtonOnPositive(stretch, steps, best)) return false;
  }
  return false;
}

/** Damped Newton within x >= 0; a place that reaches 0 leaves. `adding` joins although it is at 0. */
function newtonOnPositive(stretch: Stretch, steps: Float64Array, adding: number | null): boolean {
  let joining = adding;
  let here = value(stretch, steps, steps.length);
  for (let iteration = 0; iteration < 200; iteration++) {
    const active: number[] = [];
    for (let j = 0; j < steps.length; j++) if (steps[j]! > 0 || j === joining) active.push(j);
    const slope = gradient(stretch, steps);
    const way = newtonWay(stretch, steps, active, slope);
    if (way === null) return false;
    const gain = active.reduce((sum, j, k) => sum + way[k]! * slope[j]!, 0);
    if (gain <= 1e-22 * (1 + Math.abs(here))) return true;
    let size = 1;
    let blocking = -1;
    for (const [k, j] of active.entries()) {
      if (way[k]! < 0 && steps[j]! + size * way[k]! < 0) {
        size = steps[j]! / -way[k]!;
        blocking = j;
      }
    }
    const moved = tryStep(stretch, steps, active, way, { size, blocking, gain, here });
    // No higher point to be found in rounding: at the top.
    if (moved === null) return gain < 1e-9 * (1 + Math.abs(here));
    here = moved;
    joining = null;
    if (gain < 1e-15 * (1 + Math.abs(here)) && blocking < 0) return true;
  }
  return false;
}

function tryStep(
  stretch: Stretch,
  steps: Float64Array,
  active: readonly number[],
  way: Float64Array,
  start: { size: number; blocking: number; gain: number; here: number },
): number | null {
  const before = Float64Array.from(steps);
  let { size } = start;
  for (let i = 0; i < 50; i++) {
    for (const [k, j] of active.entries()) steps[j] = Math.max(0, before[j]! + size * way[k]!);
    if (i === 0 && start.blocking >= 0) steps[start.blocking] = 0;
    const now = value(stretch, steps, steps.length);
    if (now >= start.here + 1e-4 * size * start.gain - 1e-14 * (1 + Math.abs(start.here))) return now;
    size /= 2;
  }
  steps.set(before);
  return null;
}

function newtonWay(
  stretch: Stretch,
  steps: Float64Array,
  active: readonly number[],
  slope: Float64Array,
): Float64Array | null {
  const curvature = information(stretch, steps, active);
  const solve = choleskySolver(curvature, active.length);
  return solve(Float64Array.from(active, (j) => slope[j]!));
}

/** Minus the second derivatives by the steps of the active places, row-major. */
export function information(stretch: Stretch, steps: Float64Array, active: readonly number[]): Float64Array {
  const rank = new Int32Array(steps.length + 1);
  const isActive = new Uint8Array(steps.length);
  for (const j of active) isActive[j] = 1;
  for (let j = 0; j < steps.length; j++) rank[j + 1] = rank[j]! + isActive[j]!;
  const blocks = stretch.events.map(({ from, to, weight }) => {
    const sum = sumOf(steps, from, to);
    const less = -Math.expm1(-sum);
    return { from: rank[from]!, to: rank[to]!, weight: (weight * Math.exp(-sum)) / (less * less) };
  });
  return addCurvature(blocks, active.length);
}

function gradient(stretch: Stretch, steps: Float64Array): Float64Array {
  const n = steps.length;
  const slope = new Float64Array(n + 1);
  for (const { from, to, weight } of stretch.events) {
    const each = weight / Math.expm1(sumOf(steps, from, to));
    slope[from]! += each;
    slope[to]! -= each;
  }
  for (let j = 1; j < n; j++) slope[j]! += slope[j - 1]!;
  for (let j = 0; j < n; j++) slope[j]! -= stretch.survived[j]!;
  return slope;
}

/** Log-likelihood of the stretch, over its first `places` places. */
function value(stretch: Stretch, steps: Float64Array, places: number): number {
  let sum = 0;
  for (let j = 0; j < places; j++) sum -= stretch.survived[j]! * steps[j]!;
  for (const { from, to, weight } of stretch.events) {
    sum += weight * Math.log(-Math.expm1(-sumOf(steps, from, to)));
  }
  return sum;
}

/** Plain addition over the places of one event: differences of running sums would lose the small steps. */
function sumOf(steps: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let j = from; j < to; j++) sum += steps[j]!;
  return sum;
}

/** Survival just before each place, and (last) after all. */
export function survivalBefore(steps: Float64Array): Float64Array {
  const survival = new Float64Array(steps.length + 1);
  survival[0] = 1;
  for (let j = 0; j < steps.length; j++) survival[j + 1] = survival[j]! * Math.exp(-steps[j]!);
  return survival;
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
