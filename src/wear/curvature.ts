/**
 * Whether wear runs straight: the exponent c of a + b·hours^c, from within components only.
 *
 * Every component has a rate b of its own, free of the others, so that it does not matter which components were taken
 * off early: replacement at the limit makes pooled readings look as if wear slowed down. The intercept is common with a
 * spread by component. a and the rates are profiled out in closed form, the intercept's spread by search, and c gets
 * likelihood-ratio bounds.
 */

import { chiSquaredQuantile } from "../math/distributions.ts";
import { findRoot } from "../math/find-root.ts";
import { power } from "../math/power.ts";
import type { GroupReadings } from "../records/event-table.ts";
import type { WearTable } from "../records/wear-table.ts";
import { groupSums } from "./component-sums.ts";
import { devianceWith, repeatedReadings, sumsOnClock } from "./curvature-deviance.ts";

export type Curvature =
  | {
      readonly kind: "fitted";
      /** Components with at least two readings, and their readings. */
      readonly components: number;
      readonly readings: number;
      readonly exponent: number;
      /** One-sided bounds, each at the confidence asked for; at an edge of the search (0.2, 5) they mean "or beyond". */
      readonly lower: number;
      readonly upper: number;
      readonly verdict: "straight" | "bends up" | "bends down";
    }
  | {
      readonly kind: "too-few";
      readonly components: number;
      readonly readings: number;
      readonly why: string;
    };

const LEAST_EXPONENT = 0.2;
const LARGEST_EXPONENT = 5;
const LEAST_COMPONENTS = 5;

/** Exponent of wear on hours within components, with one-sided bounds. */
export function wearCurvature(table: WearTable, oneSidedConfidence = 0.95): Curvature {
  const repeated = repeatedReadings(table);
  const { components, readings } = repeated;
  const refuse = (why: string) => ({ kind: "too-few", components, readings, why }) as const;
  if (components < LEAST_COMPONENTS) {
    return refuse(`${components} components were read at least twice; ${LEAST_COMPONENTS} are needed`);
  }
  // One degree of freedom a component goes to its rate, one to a; c and the spread need some as well.
  if (readings - components < 5) return refuse("too few readings a component to tell a bend from scatter");
  const seen = new Map<number, number>();
  // −2·log-likelihood in c, up to a constant, at the best spread of the intercepts.
  const deviance = (c: number) => {
    const known = seen.get(c);
    if (known !== undefined) return known;
    const onClock = sumsOnClock(repeated, c);
    const at = (logRatio: number) => devianceWith(onClock, Math.exp(logRatio));
    const value = Math.min(at(leastOf(at, -8, 5, 1e-2)), devianceWith(onClock, 0));
    seen.set(c, value);
    return value;
  };
  const exponent = leastOf(deviance, LEAST_EXPONENT, LARGEST_EXPONENT, 1e-4);
  const least = deviance(exponent);
  if (!Number.isFinite(least)) return refuse("the readings lie on their lines without scatter");
  const allowed = least + chiSquaredQuantile(2 * oneSidedConfidence - 1, 1);
  const edge = (end: number) => {
    const root = findRoot((c) => deviance(c) - allowed, exponent, end, 1e-4);
    return root.kind === "found" ? root.at : end;
  };
  const lower = edge(LEAST_EXPONENT);
  const upper = edge(LARGEST_EXPONENT);
  const verdict = lower > 1 ? "bends up" : upper < 1 ? "bends down" : "straight";
  return { kind: "fitted", components, readings, exponent, lower, upper, verdict };
}

/** The same for a group; there is none to tell where only sums of its readings are known. */
export function groupCurvature(readings: GroupReadings, oneSidedConfidence: number): Curvature {
  if (readings.lives.every(({ summed }) => summed === undefined))
    return wearCurvature(readings.table, oneSidedConfidence);
  const { components, readings: count } = groupSums(readings);
  const why = "only sums of the readings are known, and a bend of wear with hours shows in the readings";
  return { kind: "too-few", components, readings: count, why };
}

/**
 * The table on a clock that runs as hours^c, in units in which 1000 h stay 1000: straight-line models fitted to it are
 * models of a + b·(hours/1000)^c. Hours of looks and of entry go through `powerOf` as well.
 */
export function powerHours(table: WearTable, exponent: number): WearTable {
  return { ...table, hours: table.hours.map((hours) => powerOf(hours, exponent)) };
}

/** Hours on the clock of an exponent; 1000 h stay 1000. */
export const powerOf = (hours: number, exponent: number): number => 1000 * power(hours / 1000, exponent);

/** Where a function of one variable is least: the best of a grid, then golden section about it. */
function leastOf(f: (x: number) => number, low: number, high: number, within: number): number {
  const steps = 16;
  let best = low;
  let least = f(low);
  for (let k = 1; k <= steps; k++) {
    const x = low + ((high - low) * k) / steps;
    const value = f(x);
    if (value < least) {
      best = x;
      least = value;
    }
  }
  let a = Math.max(low, best - (high - low) / steps);
  let b = Math.min(high, best + (high - low) / steps);
  const golden = (Math.sqrt(5) - 1) / 2;
  let x1 = b - golden * (b - a);
  let x2 = a + golden * (b - a);
  let f1 = f(x1);
  let f2 = f(x2);
  while (b - a > within) {
    if (f1 < f2) {
      b = x2;
      [x2, f2] = [x1, f1];
      x1 = b - golden * (b - a);
      f1 = f(x1);
    } else {
      a = x1;
      [x1, f1] = [x2, f2];
      x2 = a + golden * (b - a);
      f2 = f(x2);
    }
  }
  return (a + b) / 2;
}
