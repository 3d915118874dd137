/**
 * Weibull life fit by maximum likelihood, for exact, interval-, left- and right-censored lives with late entry and counts.
 *
 * S(t) = exp(-(t/scale)^shape). scale: hours by which 63.2 % have had the event. shape: no unit, above 1 means wearing out.
 * The likelihood and its parametrisation are in weibull-likelihood.ts.
 * Source: Meeker and Escobar (1998), Statistical Methods for Reliability Data, sections 8.2 and 11.3.
 * Checked: tests/life/weibull-fit.test.ts against R survival and published values.
 */

import { findRoot } from "../math/find-root.ts";
import { power } from "../math/power.ts";
import type { LifeTable } from "../records/life-table.ts";
import { climbOfExact } from "./exact-climb.ts";
import { type WeibullLikelihood, weibullLikelihood } from "./likelihood-terms.ts";
import { type Climb, climb, SHAPE_CEILING } from "./weibull-climb.ts";
import { type LikelihoodAt, likelihoodAt, logLikelihoodAt } from "./weibull-likelihood.ts";

export interface WeibullParameters {
  readonly shape: number;
  readonly scaleHours: number;
}

export interface FittedWeibull extends WeibullParameters {
  readonly kind: "fitted";
  readonly shapeStandardError: number;
  readonly scaleStandardErrorHours: number;
  /** Inverse observed information for (log scale, log shape). */
  readonly covariance: { readonly logScale: number; readonly both: number; readonly logShape: number };
  readonly logLikelihood: number;
  readonly lives: number;
  readonly events: number;
  readonly iterations: number;
  /** The prepared likelihood, for bounds; its point is (alpha, beta). */
  readonly likelihood: WeibullLikelihood;
  readonly alpha: number;
  readonly beta: number;
}

export type NoFitReason =
  | "no-lives"
  | "no-events"
  | "one-event"
  | "events-at-one-time"
  | "no-maximum"
  | "not-converged";

export interface NoWeibull {
  readonly kind: "none";
  readonly reason: NoFitReason;
  /** One sentence for a reader. */
  readonly why: string;
  readonly lives: number;
  readonly events: number;
}

export type WeibullFit = FittedWeibull | NoWeibull;

const WHY: Readonly<Record<NoFitReason, string>> = {
  "no-lives": "there are no lives in this group",
  "no-events": "no events: a shape and a scale can't be told from lives that all still run",
  "one-event": "one event: a shape can't be told from a single event",
  "events-at-one-time": "all events are at one time: no finite shape fits best",
  "no-maximum":
    "the likelihood has no single maximum: the looks don't show how the events are spread over the hours",
  "not-converged": "the search for the maximum of the likelihood did not end",
};

/**
 * @param table  one row per life; hours on one clock
 * @param near   where the search begins, if something near the answer is known
 * @returns the fit, or why there is none; never NaN
 */
export function fitWeibull(table: LifeTable, near?: WeibullParameters): WeibullFit {
  const data = weibullLikelihood(table);
  const top = topOf(data, near);
  return top.kind === "top" ? fitted(data, top) : none(top.reason, data);
}

/** A top of the likelihood without what is said of a fit. */
export interface LikeliestPoint extends WeibullParameters {
  readonly alpha: number;
  readonly beta: number;
  readonly logLikelihood: number;
  /** The likelihood next to it, for its curvature. */
  readonly before: LikelihoodAt;
}

/**
 * The top of a likelihood that is prepared already, for those who ask hundreds of times; null without a fit.
 *
 * @param small  relative size of the last step; the answer is right to about its square. __Default value:__ all digits
 */
export function likeliestPoint(
  data: WeibullLikelihood,
  near: WeibullParameters,
  small?: number,
): LikeliestPoint | null {
  const top = topOf(data, near, small);
  if (top.kind === "none") return null;
  const { alpha, beta, logLikelihood, before } = top;
  const scaleHours = Math.exp(data.centre - alpha / beta);
  if (!Number.isFinite(scaleHours) || scaleHours <= 0) return null;
  return { shape: beta, scaleHours, alpha, beta, logLikelihood, before };
}

type Top = Extract<Climb, { kind: "top" }>;

function topOf(
  data: WeibullLikelihood,
  near: WeibullParameters | undefined,
  small?: number,
): Top | { readonly kind: "none"; readonly reason: NoFitReason } {
  const reason = reasonAgainst(data);
  if (reason !== null) return { kind: "none", reason };
  if (data.intervals === 0 && !data.lateEntry) {
    const end = climbOfExact(data, near?.shape ?? shapeGuess(data));
    if (end?.kind === "top") return end;
  }
  let worst: NoFitReason = "not-converged";
  for (const [alpha, beta] of starts(data, near)) {
    const end = climb(data, alpha, beta, small);
    if (end.kind === "top") return end;
    if (end.kind === "no-maximum") worst = end.kind;
    // Concave: another start can't end elsewhere.
    if (!data.lateEntry && end.kind === "no-maximum") break;
  }
  if (worst === "no-maximum") return { kind: "none", reason: worst };
  const best = bestOnGrid(data);
  if (best === null) return { kind: "none", reason: "no-maximum" };
  const end = climb(data, best.alpha, best.beta, small);
  return end.kind === "top" ? end : { kind: "none", reason: end.kind };
}

/**
 * The best of 56 shapes from 1e-4 to 1e7, each with its best alpha; null where an end is as good as any: the likelihood
 * then rises for ever. (With late entry it may rise as the shape goes to 0 and the hazard to that of a power law, c/t.)
 */
function bestOnGrid(data: WeibullLikelihood): { alpha: number; beta: number } | null {
  const farthest = (logs: Float64Array) =>
    logs.reduce((most, log) => (Number.isFinite(log) ? Math.max(most, Math.abs(log)) : most), 0);
  const reach = Math.max(farthest(data.hazardLog), farthest(data.intervalLowLog));
  const points = Array.from({ length: 56 }, (_, i) => {
    const beta = power(10, -4 + i / 5);
    const span = 60 + beta * reach;
    const root = findRoot((alpha) => likelihoodAt(data, alpha, beta).gradAlpha, -span, 60);
    const alpha = root.kind === "found" ? root.at : 0;
    const value = root.kind === "found" ? logLikelihoodAt(data, alpha, beta) : Number.NEGATIVE_INFINITY;
    return { alpha, beta, value };
  });
  const best = points.reduce((top, point) => (point.value > top.value ? point : top));
  const ends = Math.max(points[0]!.value, points[55]!.value);
  return best.value > ends + 1e-5 * (1 + Math.abs(ends)) ? best : null;
}

function reasonAgainst(data: WeibullLikelihood): NoFitReason | null {
  const events = data.exact + data.intervals;
  if (data.lives === 0) return "no-lives";
  if (events === 0) return "no-events";
  if (events <= 1) return "one-event";
  if (data.intervals === 0 && data.oneExactTime) return "events-at-one-time";
  return null;
}

function none(reason: NoFitReason, data: WeibullLikelihood): NoWeibull {
  return { kind: "none", reason, why: WHY[reason], lives: data.lives, events: data.exact + data.intervals };
}

/** From the spread of the events' logs: pi/sqrt 6 over the shape. */
function shapeGuess({ logSpread }: WeibullLikelihood): number {
  const guess = logSpread > 0 ? 1.283 / logSpread : 1.5;
  return Math.min(Math.max(guess, 0.1), SHAPE_CEILING / 10);
}

/** First guesses, each made when it is asked for: the shape from the events, then some fixed ones. */
function* starts(
  data: WeibullLikelihood,
  near: WeibullParameters | undefined,
): Generator<[alpha: number, beta: number]> {
  if (near !== undefined) yield [near.shape * (data.centre - Math.log(near.scaleHours)), near.shape];
  const shapes = [shapeGuess(data), 1, 4, 0.3, 15];
  for (const beta of shapes) {
    let exposure = 0;
    for (let k = 0; k < data.hazardLog.length; k++) {
      exposure -= data.hazardWeight[k]! * Math.exp(Math.min(beta * data.hazardLog[k]!, 600));
    }
    // An event in an interval is taken for halfway between its ends.
    for (let k = 0; k < data.intervalWeight.length; k++) {
      const low = Math.exp(Math.min(beta * data.intervalLowLog[k]!, 600));
      const high = Math.exp(Math.min(beta * data.intervalHighLog[k]!, 600));
      exposure += data.intervalSurvived[k]! * low + (data.intervalWeight[k]! / 2) * (high - low);
    }
    const events = data.exact + data.intervals;
    yield [exposure > 0 ? Math.log(events / exposure) : 0, beta];
  }
}

/** A last step below this changed no digit that is said of the curvature. */
const NO_STEP = 1e-11;

function fitted(data: WeibullLikelihood, { alpha, beta, before, lastStep, iterations }: Top): WeibullFit {
  const at = lastStep <= NO_STEP ? before : likelihoodAt(data, alpha, beta);
  // To (log scale, log shape): alpha = shape (centre - log scale), so d alpha = -shape d logScale + alpha d logShape.
  const a = -at.hessAlphaAlpha;
  const b = -at.hessAlphaBeta;
  const c = -at.hessBetaBeta;
  const scaleScale = beta * beta * a;
  const scaleShape = -beta * (alpha * a + beta * b);
  const shapeShape = alpha * alpha * a + 2 * alpha * beta * b + beta * beta * c;
  const determinant = power(beta, 4) * (a * c - b * b);
  if (!(determinant > 0 && scaleScale > 0)) return none("no-maximum", data);
  const covariance = {
    logScale: shapeShape / determinant,
    both: -scaleShape / determinant,
    logShape: scaleScale / determinant,
  };
  const scaleHours = Math.exp(data.centre - alpha / beta);
  const numbers = [scaleHours, covariance.logScale, covariance.both, covariance.logShape];
  if (!numbers.every(Number.isFinite) || scaleHours <= 0) return none("no-maximum", data);
  return {
    kind: "fitted",
    shape: beta,
    scaleHours,
    shapeStandardError: beta * Math.sqrt(covariance.logShape),
    scaleStandardErrorHours: scaleHours * Math.sqrt(covariance.logScale),
    covariance,
    logLikelihood: at.value,
    lives: data.lives,
    events: data.exact + data.intervals,
    iterations,
    likelihood: data,
    alpha,
    beta,
  };
}
