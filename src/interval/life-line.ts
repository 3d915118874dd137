/**
 * The life line: a Weibull of the over-limit lives as a survival curve. With 3 events or more a free fit, its bounds
 * widened for aircraft and calibrated where events are few; else a given-shape Weibull.
 */
import { type LifeLineOutcome, prepareLifeLine, survivalOf } from "../life/decision-line.ts";
import { DEFAULT_SHAPES, overShapes } from "../life/given-shape.ts";
import { likeliestShape } from "../life/likeliest-shape.ts";
import { fitWeibull, type WeibullFit } from "../life/weibull-fit.ts";
import type { LifeTable } from "../records/life-table.ts";
import {
  type BoundSide,
  FEWEST_AIRCRAFT,
  FEWEST_LIVES,
  type SurvivalLine,
  type SurvivalQuantity,
} from "./lines.ts";

export type LifeLineResult =
  | {
      readonly kind: "line";
      readonly line: SurvivalLine;
      readonly fit: WeibullFit;
      /** The shape was given, not fitted; its bounds take every life for its own. */
      readonly givenShape: boolean;
    }
  | { readonly kind: "none"; readonly why: string; readonly fit: WeibullFit };

/**
 * The line of a group's over-limit lives at any confidence; fit and simulations are made once. With fewer than 10 lives
 * of 3 aircraft it has no upper bounds: nothing can be demonstrated by so few, but a risk that is too high can still be
 * established.
 */
export function lifeLine(table: LifeTable): (confidence: number) => LifeLineResult {
  const fit = fitWeibull(table);
  const free = prepareLifeLine(table, {}, fit);
  const seen = Array.from({ length: table.rows }, (_, row) => row).filter((row) => saysSomething(table, row));
  const aircraft = new Set(seen.map((row) => table.cluster[row])).size;
  const enough = seen.length >= FEWEST_LIVES && aircraft >= FEWEST_AIRCRAFT;
  return (confidence) => {
    const fitted = freeLine(free(confidence));
    const line = fitted ?? givenShapeLine(table, fit, confidence);
    if (line === null) {
      return { kind: "none", why: "no life was looked at after its start, so nothing was seen to last", fit };
    }
    return {
      kind: "line",
      line: enough ? line : withoutUpperBounds(line, seen.length, aircraft),
      fit,
      givenShape: fitted === null,
    };
  };
}

/** A life that was never looked at since it entered says nothing. */
const saysSomething = ({ entryHours, lowerHours, upperHours }: LifeTable, row: number): boolean =>
  upperHours[row]! < Number.POSITIVE_INFINITY || lowerHours[row]! > entryHours[row]!;

const freeLine = (line: LifeLineOutcome): SurvivalLine | null =>
  line.kind === "free"
    ? {
        method: "life",
        standsOn: line.standsOn,
        bounded: (quantity, side = "both") => line.bounded(quantity, side),
        estimated: (quantity) => quantity(line.survival!),
      }
    : null;

function withoutUpperBounds(line: SurvivalLine, lives: number, aircraft: number): SurvivalLine {
  return {
    ...line,
    standsOn: `${lives} ${lives === 1 ? "life" : "lives"} of ${aircraft} aircraft, too few for an upper bound: ${FEWEST_LIVES} lives of ${FEWEST_AIRCRAFT} aircraft are needed`,
    bounded: (quantity, side) => ({ ...line.bounded(quantity, side), upper: null }),
  };
}

/**
 * With 0 to 2 events, or where no free fit exists: a given-shape Weibull. The bounds are the worst over the shapes; the
 * best estimate is the likeliest shape's, and without an event that nothing happens.
 */
function givenShapeLine(table: LifeTable, fit: WeibullFit, confidence: number): SurvivalLine | null {
  const { bounded } = overShapes(table, confidence);
  const worst = (quantity: SurvivalQuantity, side: BoundSide = "both") =>
    bounded((parameters) => quantity(survivalOf(parameters)), side === "both" ? "both" : "upper");
  if (worst((survival) => 1 - survival(1), "upper").upper === null) return null;
  const likeliest = likeliestShape(table);
  const best = likeliest === null ? () => 1 : survivalOf(likeliest);
  const { from, to } = DEFAULT_SHAPES;
  return {
    method: "life",
    standsOn: `given-shape Weibull (shapes ${from} to ${to}, the worst counts) on ${fit.lives} lives with ${fit.events} over-limit events`,
    bounded: (quantity, side) => {
      const { lower, upper } = worst(quantity, side);
      return { estimate: quantity(best), lower, upper };
    },
    estimated: (quantity) => quantity(best),
  };
}
