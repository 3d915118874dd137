/**
 * Weibull of given shape for few events (0 to 2): the scale and its bounds for each shape in a range, and the worst of a
 * risk over the range. Where the shape can't be told from the data, it isn't guessed: every shape that such parts may have
 * is taken in turn.
 *
 * With shape b the lives t^b are exponential. Upper bound of the cumulative hazard from r events: chi-squared quantile
 * (C; 2r + 2) / 2 over the exposure, the sum of t^b - entry^b. For r = 0 that is -log(1 - C), where the likelihood itself
 * has fallen to 1 - C: the success-run formula. An event known by an interval lends exposure only up to its last good look
 * for the pessimistic bound and up to the look that found it for the other, which errs to the safe side on each.
 * Sources: AFWAL-TR-83-2079 (1983), Weibull Analysis Handbook, on Weibulls of given shape; Epstein and Sobel (1953),
 * JASA 48, 486-502, for the chi-squared bound. Checked: tests/life/given-shape.test.ts.
 */

import { chiSquaredQuantile } from "../math/distributions.ts";
import { power } from "../math/power.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type WeibullLikelihood, weibullLikelihood } from "./likelihood-terms.ts";
import { topOnLine } from "./top-on-line.ts";
import type { WeibullParameters } from "./weibull-fit.ts";
import { likelihoodAt } from "./weibull-likelihood.ts";

export interface GivenShapeScale {
  readonly shape: number;
  readonly events: number;
  /** Maximum likelihood; without events the scale that is as likely too long as too short (50 % bound). */
  readonly estimateHours: number | null;
  /** One-sided bounds, each at the stated confidence; null where there is none. */
  readonly lowerHours: number | null;
  readonly upperHours: number | null;
}

export interface ShapeRange {
  readonly from: number;
  readonly to: number;
}

/** Shapes of parts that wear, from constant risk to steep wear-out. */
export const DEFAULT_SHAPES: ShapeRange = { from: 1, to: 8 };

/** The scale of a Weibull whose shape is given. */
export function givenShapeScale(table: LifeTable, shape: number, confidence: number): GivenShapeScale {
  return scaleFrom(weibullLikelihood(table), table, shape, confidence);
}

function scaleFrom(
  data: WeibullLikelihood,
  table: LifeTable,
  shape: number,
  confidence: number,
): GivenShapeScale {
  const events = data.exact + data.intervals;
  const least = logExposure(table, shape, "least");
  const most = logExposure(table, shape, "most");
  // (exposure / cumulative hazard)^(1/shape), in logs.
  const scale = (logOfExposure: number, hazard: number): number | null => {
    if (logOfExposure === Number.NEGATIVE_INFINITY || !(hazard > 0)) return null;
    return Math.exp((logOfExposure - Math.log(hazard)) / shape);
  };
  const above = chiSquaredQuantile(confidence, 2 * events + 2) / 2;
  const below = events > 0 ? chiSquaredQuantile(1 - confidence, 2 * events) / 2 : 0;
  return {
    shape,
    events,
    estimateHours: events === 0 ? scale(least, Math.LN2) : bestScale(data, shape),
    lowerHours: scale(least, above),
    upperHours: scale(most, below),
  };
}

/** Log of the sum of t^shape - entry^shape over lives, with event intervals counted to their near or far end. */
function logExposure(table: LifeTable, shape: number, intervals: "least" | "most"): number {
  const end = (i: number) => {
    const upper = table.upperHours[i]!;
    return intervals === "most" && upper < Number.POSITIVE_INFINITY ? upper : table.lowerHours[i]!;
  };
  let longest = 0;
  for (let i = 0; i < table.rows; i++) if (table.count[i]! > 0) longest = Math.max(longest, end(i));
  if (longest === 0) return Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let i = 0; i < table.rows; i++) {
    sum += table.count[i]! * (power(end(i) / longest, shape) - power(table.entryHours[i]! / longest, shape));
  }
  return sum > 0 ? Math.log(sum) + shape * Math.log(longest) : Number.NEGATIVE_INFINITY;
}

/** The likeliest scale at one shape, in hours; null where the likelihood has no top. */
export function bestScale(data: WeibullLikelihood, shape: number): number | null {
  let start = 0;
  // A start on the rising side: the search is concave in alpha, but far out it is flat.
  for (let i = 0; i < 200 && likelihoodAt(data, start, shape).gradAlpha < 0; i++) start -= 2;
  const { alpha, at } = topOnLine(data, { alpha: start, beta: shape }, { alpha: 1, beta: 0 });
  if (!(at.hessAlphaAlpha < 0) || Math.abs(at.gradAlpha) > 1e-6) return null;
  return Math.exp(data.centre - alpha / shape);
}

/** A risk must not fall where the scale falls (say, the chance of being over the limit by some hours). */
type Risk = (parameters: WeibullParameters) => number;

/** The worst of any risk over all shapes of a range; null where for some shape there is none. */
export interface WorstOverShapes {
  readonly events: number;
  /** The greatest estimate over the shapes. */
  readonly estimated: (risk: Risk) => number | null;
  /** The least lower bound over the shapes (null where only the upper is asked for), the greatest upper one, and its shape. */
  readonly bounded: (
    risk: Risk,
    side?: "both" | "upper",
  ) => {
    readonly lower: number | null;
    readonly upper: number | null;
    readonly worstShape: number | null;
  };
}

/**
 * The scale of every shape of a range, found once for any number of risks.
 *
 * @param confidence  of each one-sided bound
 */
export function overShapes(
  table: LifeTable,
  confidence: number,
  range: ShapeRange = DEFAULT_SHAPES,
): WorstOverShapes {
  const data = weibullLikelihood(table);
  const steps = 56;
  const scales = Array.from({ length: steps + 1 }, (_, i) =>
    scaleFrom(data, table, range.from * power(range.to / range.from, i / steps), confidence),
  );
  const at = (risk: Risk, pick: (scale: GivenShapeScale) => number | null): number[] | null => {
    const known = scales.map((scale) => ({ shape: scale.shape, scaleHours: pick(scale) }));
    if (!known.every((each): each is WeibullParameters => each.scaleHours !== null)) return null;
    return known.map(risk);
  };
  return {
    events: data.exact + data.intervals,
    estimated: (risk) => {
      const estimates = at(risk, (scale) => scale.estimateHours);
      return estimates === null ? null : Math.max(...estimates);
    },
    bounded: (risk, side = "both") => {
      const uppers = at(risk, (scale) => scale.lowerHours);
      const lowers = side === "upper" ? null : at(risk, (scale) => scale.upperHours);
      const upper = uppers === null ? null : Math.max(...uppers);
      return {
        lower: lowers === null ? null : Math.min(...lowers),
        upper,
        worstShape: uppers === null ? null : scales[uppers.indexOf(upper!)]!.shape,
      };
    },
  };
}

/** What lives without an event show: at confidence C at least this share survives `hours` (success run). */
export interface ZeroEventStatement {
  readonly lives: number;
  readonly hours: number;
  readonly confidence: number;
  readonly survivalAtLeast: number;
  readonly sentence: string;
}

/** Hours at which half of the lives seen from new were still being looked at; 0 where there are none. */
export function halfwayHours(table: LifeTable): number {
  const reached: { hours: number; count: number }[] = [];
  for (let i = 0; i < table.rows; i++) {
    if (table.entryHours[i] === 0) reached.push({ hours: table.lowerHours[i]!, count: table.count[i]! });
  }
  const all = reached.reduce((sum, { count }) => sum + count, 0);
  let left = all;
  for (const { hours, count } of reached.sort((a, b) => a.hours - b.hours)) {
    left -= count;
    if (left < all / 2) return hours;
  }
  return 0;
}

/**
 * "n lives to T hours without an event show ...": the success run, from the lives seen from new to at least T hours.
 *
 * @returns null where there was an event, or no such life
 */
export function zeroEventStatement(
  table: LifeTable,
  hours: number,
  confidence: number,
): ZeroEventStatement | null {
  let lives = 0;
  for (let i = 0; i < table.rows; i++) {
    if (table.count[i]! > 0 && table.upperHours[i]! < Number.POSITIVE_INFINITY) return null;
    if (table.entryHours[i] === 0 && table.lowerHours[i]! >= hours) lives += table.count[i]!;
  }
  if (lives === 0 || !(hours > 0)) return null;
  const survivalAtLeast = power(1 - confidence, 1 / lives);
  const percent = (share: number) => `${Number((100 * share).toPrecision(3))} %`;
  return {
    lives,
    hours,
    confidence,
    survivalAtLeast,
    sentence: `${lives} ${lives === 1 ? "life" : "lives"} to ${Math.round(hours)} h without an event show at ${percent(confidence)} confidence that at least ${percent(survivalAtLeast)} get there without one.`,
  };
}
