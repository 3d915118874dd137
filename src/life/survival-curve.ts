/**
 * The survival curve without a model, to stand beside every fit: Kaplan-Meier where all events are exact, Turnbull where
 * they are known by intervals, with late entry in both, and log-log bounds.
 *
 * With late entry the first lives under observation may all end before others join, and the plain product then stays at 0
 * for ever. Such stretches are told apart: the curve is given over the stretch with most events, as survival given that
 * its beginning was reached, and says so.
 * Sources: Kaplan and Meier (1958), JASA 53, 457-481; Greenwood's variance, which for intervals becomes the inverse of
 * the observed information (Klein and Moeschberger 2003, Survival Analysis, sections 4.2-4.6 and 5.2).
 */
import { standardNormalQuantile } from "../math/distributions.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type CurveSupport, curveSupport } from "./curve-support.ts";
import { newtonSystem, type Stretch, stretchOf, sumOf, survivalBefore } from "./stretch.ts";
import { maximiseStretch } from "./turnbull.ts";

/** One step of the curve: an event time, or the right end of an interval that carries mass. */
export interface CurvePoint {
  /** Left end of the interval; equal to `hours` for an exact event. */
  readonly fromHours: number;
  readonly hours: number;
  readonly survival: number;
  /** Null where the data give none (survival 0, or an information that can't be inverted). */
  readonly standardError: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface SurvivalCurve {
  readonly kind: "curve";
  readonly method: "Kaplan-Meier" | "Turnbull";
  /** The curve is survival given that these hours were reached; 0: from new. */
  readonly givenHours: number;
  readonly points: readonly CurvePoint[];
  readonly logLikelihood: number;
  readonly selfConsistency: number;
  /** Sentences for the reader. */
  readonly cautions: readonly string[];
}

export type SurvivalOutcome = SurvivalCurve | { readonly kind: "none"; readonly why: string };

/** @param confidence  of the two-sided pointwise bounds */
export function survivalCurve(table: LifeTable, confidence = 0.95): SurvivalOutcome {
  const support = curveSupport(table);
  if (support.highHours.length === 0) return { kind: "none", why: "no events: the curve stays at 1" };
  const { from, to, givenHours, cautions } = chooseStretch(support);
  const stretch = stretchOf(support, from, to);
  const top = maximiseStretch(stretch);
  if (top.kind === "not-converged") {
    return { kind: "none", why: "the nonparametric curve did not reach its maximum" };
  }
  const exact = stretch.events.every(
    (event) =>
      event.to - event.from === 1 &&
      support.lowHours[from + event.from] === support.highHours[from + event.from],
  );
  const places = { low: support.lowHours.subarray(from, to), high: support.highHours.subarray(from, to) };
  return {
    kind: "curve",
    method: exact ? "Kaplan-Meier" : "Turnbull",
    givenHours,
    points: curvePoints(stretch, top.steps, places, standardNormalQuantile((1 + confidence) / 2)),
    logLikelihood: top.logLikelihood,
    selfConsistency: top.selfConsistency,
    cautions,
  };
}

function chooseStretch(support: CurveSupport): {
  from: number;
  to: number;
  givenHours: number;
  cautions: string[];
} {
  const starts = [{ before: 0, fromHours: support.firstEntryHours }, ...support.breaks];
  const stretches = starts.map((start, i) => {
    const from = start.before;
    const to = starts[i + 1]?.before ?? support.highHours.length;
    const events = support.events
      .filter((event) => event.from >= from && event.from < to)
      .reduce((sum, event) => sum + event.weight, 0);
    return { from, to, givenHours: start.fromHours, events };
  });
  const chosen = stretches.reduce((best, each) => (each.events > best.events ? each : best));
  const cautions: string[] = [];
  if (stretches.length > 1) {
    const left = stretches.reduce((sum, each) => sum + each.events, 0) - chosen.events;
    cautions.push(
      `At some hours no life was under observation that is also seen later, so the curve can't run through: it starts at ${chosen.givenHours} h, given that these were reached, and leaves out ${left} ${left === 1 ? "event" : "events"} elsewhere.`,
    );
  } else if (chosen.givenHours > 0) {
    cautions.push(
      `No life was under observation before ${chosen.givenHours} h: the curve is survival given that these hours were reached.`,
    );
  }
  return { ...chosen, cautions };
}

function curvePoints(
  stretch: Stretch,
  steps: Float64Array,
  places: { low: Float64Array; high: Float64Array },
  z: number,
): CurvePoint[] {
  const survival = survivalBefore(steps);
  const variance = hazardVariance(stretch, steps);
  const points: CurvePoint[] = [];
  let hazard = 0;
  for (let j = 0; j < steps.length; j++) {
    if (!(steps[j]! > 0)) continue;
    hazard += steps[j]!;
    const after = survival[j + 1]!;
    const spread = variance[j] ?? null;
    const known = spread !== null && after > 0;
    const factor = known ? Math.exp((z * Math.sqrt(spread)) / hazard) : 1;
    points.push({
      fromHours: places.low[j]!,
      hours: places.high[j]!,
      survival: after,
      standardError: known ? after * Math.sqrt(spread) : null,
      lower: known ? Math.exp(-hazard * factor) : null,
      upper: known ? Math.exp(-hazard / factor) : null,
    });
  }
  return points;
}

/** Variance of the cumulative hazard after each place; null where there is none. For exact events, Greenwood's. */
function hazardVariance(stretch: Stretch, steps: Float64Array): (number | null)[] {
  const active: number[] = [];
  for (let j = 0; j < steps.length; j++)
    if (steps[j]! > 0 && steps[j]! < Number.POSITIVE_INFINITY) active.push(j);
  const finite = steps.map((step) => (step === Number.POSITIVE_INFINITY ? 0 : step));
  // Events that fell with the curve to 0 tell nothing about the steps before.
  const open = {
    ...stretch,
    events: stretch.events.filter(({ from, to }) => sumOf(steps, from, to) < Infinity),
  };
  const answer: (number | null)[] = new Array(steps.length).fill(null);
  if (open.events.every((event) => event.to - event.from === 1)) return greenwood(open, active, answer);
  const variances = newtonSystem(open, finite, active).variances();
  for (const [k, j] of active.entries()) if (Number.isFinite(variances[k]!)) answer[j] = variances[k]!;
  return answer;
}

/** Exact events only: the information is diagonal, and its inverse sums to Greenwood's formula. */
function greenwood(
  stretch: Stretch,
  active: readonly number[],
  answer: (number | null)[],
): (number | null)[] {
  const events = new Float64Array(stretch.survived.length);
  for (const { from, weight } of stretch.events) events[from]! += weight;
  let variance = 0;
  for (const j of active) {
    const survived = stretch.survived[j]!;
    variance += events[j]! / (survived * (survived + events[j]!));
    answer[j] = variance;
  }
  return answer;
}
