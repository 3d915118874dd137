/**
 * One stretch of the nonparametric curve as a problem of its own: its log-likelihood by the steps of the cumulative hazard,
 * with derivatives. A life adds -(sum of steps over the places it survived since entry) and, for an event,
 * log(1 - exp(-sum of steps over the places it may lie in)).
 */
import type { CurveSupport } from "./curve-support.ts";
import { type HazardSystem, hazardSystem } from "./hazard-system.ts";

/** One stretch of places with lives under observation throughout. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly survived: Float64Array;
  readonly events: readonly { from: number; to: number; weight: number }[];
}

/** Places from..to of the support as a problem of its own; events reaching over its end were settled before it. */
export function stretchOf(support: CurveSupport, from: number, to: number): Stretch {
  const events = support.events
    .filter((event) => event.from >= from && event.from < to)
    .map((event) => ({ from: event.from - from, to: Math.min(event.to, to) - from, weight: event.weight }));
  return { from, to, survived: support.survived.slice(from, to), events };
}

/** Log-likelihood of the stretch, over its first `places` places. */
export function stretchLogLikelihood(stretch: Stretch, steps: Float64Array, places: number): number {
  const sumIn = rangeSums(steps);
  let sum = 0;
  for (let j = 0; j < places; j++) sum -= stretch.survived[j]! * steps[j]!;
  for (const { from, to, weight } of stretch.events) {
    sum += weight * Math.log(-Math.expm1(-sumIn(from, to)));
  }
  return sum;
}

/** Sums over ranges of places as `sumOf`, going through the places that carry something only. */
function rangeSums(steps: Float64Array): (from: number, to: number) => number {
  const rank = new Int32Array(steps.length + 1);
  const carried = new Float64Array(steps.length);
  let found = 0;
  for (let j = 0; j < steps.length; j++) {
    if (steps[j] !== 0) carried[found++] = steps[j]!;
    rank[j + 1] = found;
  }
  return (from, to) => sumOf(carried, rank[from]!, rank[to]!);
}

/** Plain addition over the places of one event: differences of running sums would lose the small steps. */
export function sumOf(steps: Float64Array, from: number, to: number): number {
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

/** First derivatives by the steps (one more entry than places; the last is of no use). */
export function stretchGradient(stretch: Stretch, steps: Float64Array): Float64Array {
  const n = steps.length;
  const slope = new Float64Array(n + 1);
  const sumIn = rangeSums(steps);
  for (const { from, to, weight } of stretch.events) {
    const each = weight / Math.expm1(sumIn(from, to));
    slope[from]! += each;
    slope[to]! -= each;
  }
  for (let j = 1; j < n; j++) slope[j]! += slope[j - 1]!;
  for (let j = 0; j < n; j++) slope[j]! -= stretch.survived[j]!;
  return slope;
}

/** Newton's equations for the steps of the active places, in their order. */
export function newtonSystem(stretch: Stretch, steps: Float64Array, active: readonly number[]): HazardSystem {
  const rank = new Int32Array(steps.length + 1);
  const isActive = new Uint8Array(steps.length);
  for (const j of active) isActive[j] = 1;
  for (let j = 0; j < steps.length; j++) rank[j + 1] = rank[j]! + isActive[j]!;
  const sumIn = rangeSums(steps);
  const blocks = stretch.events.map(({ from, to, weight }) => {
    const sum = sumIn(from, to);
    const less = -Math.expm1(-sum);
    return { from: rank[from]!, to: rank[to]!, weight: (weight * Math.exp(-sum)) / (less * less) };
  });
  return hazardSystem(blocks, active.length);
}
