/** The life line: a Weibull of the over-limit lives as a survival curve, its bounds widened for aircraft that are alike. */
import { DEFAULT_SHAPES, worstOverShapes } from "../life/given-shape.ts";
import { likeliestShape } from "../life/likeliest-shape.ts";
import { oneSidedDrop } from "../life/likelihood-drop.ts";
import { extremesOver, traceRegion } from "../life/likelihood-region.ts";
import {
  type FittedWeibull,
  fitWeibull,
  type WeibullFit,
  type WeibullParameters,
} from "../life/weibull-fit.ts";
import type { LifeTable } from "../records/life-table.ts";
import { FEWEST_AIRCRAFT, FEWEST_LIVES, type SurvivalLine, type SurvivalQuantity } from "./lines.ts";

export type LifeLineResult =
  | { readonly kind: "line"; readonly line: SurvivalLine; readonly fit: WeibullFit }
  | { readonly kind: "none"; readonly why: string; readonly fit: WeibullFit };

/** Risks are read to three digits; these give five. */
const RAYS = 60;
const REFINEMENTS = 8;

/** Below this many events a free fit of the shape is not trusted. */
const EVENTS_FOR_FREE_SHAPE = 3;

/**
 * The line of a group's over-limit lives. With fewer than 10 lives of 3 aircraft it has no upper bounds: nothing can be
 * demonstrated by so few, but a risk that is too high can still be established.
 */
export function lifeLine(table: LifeTable, confidence: number): LifeLineResult {
  const fit = fitWeibull(table);
  const free = fit.kind === "fitted" && fit.events >= EVENTS_FOR_FREE_SHAPE;
  const line = free ? fittedLine(fit, confidence) : givenShapeLine(table, fit, confidence);
  if (line === null) {
    return { kind: "none", why: "no life was looked at after its start, so nothing was seen to last", fit };
  }
  const aircraft = new Set(table.cluster).size;
  if (table.rows >= FEWEST_LIVES && aircraft >= FEWEST_AIRCRAFT) return { kind: "line", line, fit };
  return { kind: "line", line: withoutUpperBounds(line, table.rows, aircraft), fit };
}

function withoutUpperBounds(line: SurvivalLine, lives: number, aircraft: number): SurvivalLine {
  return {
    ...line,
    standsOn: `${line.standsOn}; ${lives} lives of ${aircraft} aircraft, too few for an upper bound (${FEWEST_LIVES} of ${FEWEST_AIRCRAFT})`,
    bounded: (quantity) => ({ ...line.bounded(quantity), upper: null }),
  };
}

const survivalOf =
  ({ shape, scaleHours }: WeibullParameters) =>
  (hours: number): number =>
    Math.exp(-((hours / scaleHours) ** shape));

function fittedLine(fit: FittedWeibull, confidence: number): SurvivalLine {
  const region = traceRegion(fit, oneSidedDrop(confidence), RAYS);
  return {
    method: "life",
    standsOn: `a Weibull fitted to ${fit.lives} lives with ${fit.events} over-limit events`,
    bounded: (quantity) => {
      const of = (parameters: WeibullParameters) => quantity(survivalOf(parameters));
      const { lower, upper } = extremesOver(region, of, REFINEMENTS);
      return { estimate: of(fit), lower, upper };
    },
  };
}

/**
 * With 0 to 2 events, or where no free fit exists: a given-shape Weibull. The bounds are the worst over the shapes; the
 * best estimate is the likeliest shape's, and without an event that nothing happens.
 */
function givenShapeLine(table: LifeTable, fit: WeibullFit, confidence: number): SurvivalLine | null {
  const worst = (quantity: SurvivalQuantity) =>
    worstOverShapes(table, (parameters) => quantity(survivalOf(parameters)), confidence);
  if (worst((survival) => 1 - survival(1)).upper === null) return null;
  const likeliest = likeliestShape(table);
  const best = likeliest === null ? () => 1 : survivalOf(likeliest);
  const { from, to } = DEFAULT_SHAPES;
  return {
    method: "life",
    standsOn: `a given-shape Weibull (shapes ${from} to ${to}, the worst counts) on ${fit.lives} lives with ${fit.events} over-limit events`,
    bounded: (quantity) => {
      const { lower, upper } = worst(quantity);
      return { estimate: quantity(best), lower, upper };
    },
  };
}
