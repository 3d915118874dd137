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

/** Newton on the places that carry mass, adding the most promising ones until none would help. */
function climbToTop(stretch: Stretch, steps: Float64Array, total: number): boolean {
  let joining = new Set<number>();
  for (let round = 0; round < 300; round++) {
    if (!newtonOnPositive(stretch, steps, joining)) return false;
    joining = promising(steps, gradient(stretch, steps), 1e-9 * total);
    if (joining.size === 0) return true;
  }
  return false;
}

/** Of each run of empty places where mass would help, the one where it would help most. */
function promising(steps: Float64Array, slope: Float64Array, least: number): Set<number> {
  const found = new Set<number>();
  let best = -1;
  for (let j = 0; j <= steps.length; j++) {
    const helps = j < steps.length && steps[j] === 0 && slope[j]! > least;
    if (helps && (best < 0 || slope[j]! > slope[best]!)) best = j;
    if (!helps && best >= 0) {
      found.add(best);
      best = -1;
    }
  }
  return found;
}

/** Damped Newton, projected on x >= 0: places that fall to 0 leave. Those `joining` take part although at 0. */
function newtonOnPositive(stretch: Stretch, steps: Float64Array, joining: ReadonlySet<number>): boolean {
  let guests = joining;
  let here = value(stretch, steps, steps.length);
  for (let iteration = 0; iteration < 300; iteration++) {
    const slope = gradient(stretch, steps);
    const found = activeWay(stretch, steps, slope, guests);
    if (found === null) return false;
    const { active, way } = found;
    const gain = active.reduce((sum, j, k) => sum + way[k]! * slope[j]!, 0);
    if (gain <= 1e-22 * (1 + Math.abs(here))) return true;
    const moved = tryStep(stretch, steps, { active, way, slope, here });
    // No higher point to be found in rounding: at the top.
    if (moved === null) return gain < 1e-9 * (1 + Math.abs(here));
    const done = gain < 1e-15 * (1 + Math.abs(here)) && !moved.projected;
    here = moved.value;
    guests = NONE;
    if (done) return true;
  }
  return false;
}

const NONE: ReadonlySet<number> = new Set();

/** Places that take part and Newton's way for them; a guest at 0 that would go below it stays out. */
function activeWay(
  stretch: Stretch,
  steps: Float64Array,
  slope: Float64Array,
  guests: ReadonlySet<number>,
): { active: number[]; way: Float64Array } | null {
  const staying = new Set(guests);
  for (;;) {
    const active: number[] = [];
    for (let j = 0; j < steps.length; j++) if (steps[j]! > 0 || staying.has(j)) active.push(j);
    const way = newtonWay(stretch, steps, active, slope);
    if (way === null) return null;
    const out = active.filter((j, k) => steps[j] === 0 && way[k]! < 0);
    if (out.length === 0) return { active, way };
    for (const j of out) staying.delete(j);
  }
}

/** First projected steps, which clear many places at once; where they don't climb, a step to the nearest wall. */
function tryStep(
  stretch: Stretch,
  steps: Float64Array,
  from: { active: readonly number[]; way: Float64Array; slope: Float64Array; here: number },
): { value: number; projected: boolean } | null {
  const before = Float64Array.from(steps);
  const { active, way, slope, here } = from;
  let wall = 1;
  for (const [k, j] of active.entries()) if (way[k]! < 0) wall = Math.min(wall, before[j]! / -way[k]!);
  const sizes = wall < 1 ? [1, 0.5, 0.25] : [];
  for (let size = wall; size > 1e-14 * wall; size /= 2) sizes.push(size);
  for (const size of sizes) {
    let projected = false;
    let promised = 0;
    for (const [k, j] of active.entries()) {
      const to = before[j]! + size * way[k]!;
      const out = to <= 1e-15 * before[j]!;
      if (out && way[k]! < 0) projected = true;
      steps[j] = out ? 0 : to;
      promised += slope[j]! * (steps[j]! - before[j]!);
    }
    if (promised < 0) continue;
    const now = value(stretch, steps, steps.length);
    if (now >= here + 1e-4 * promised - 1e-14 * (1 + Math.abs(here))) return { value: now, projected };
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
