/** The life line: a Weibull of the over-limit lives as a survival curve, its bounds widened for aircraft that are alike. */
import { DEFAULT_SHAPES, worstOverShapes } from "../life/given-shape.ts";
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
import type { Bounded } from "./month-result.ts";

export type LifeLineResult =
  | { readonly kind: "line"; readonly line: SurvivalLine; readonly fit: WeibullFit }
  | { readonly kind: "none"; readonly why: string; readonly fit: WeibullFit };

/** Below this many events a free fit of the shape is not trusted. */
const EVENTS_FOR_FREE_SHAPE = 3;

export function lifeLine(table: LifeTable, confidence: number): LifeLineResult {
  const fit = fitWeibull(table);
  const aircraft = new Set(table.cluster).size;
  if (table.rows < FEWEST_LIVES || aircraft < FEWEST_AIRCRAFT) {
    const why = `${table.rows} lives of ${aircraft} aircraft; ${FEWEST_LIVES} of ${FEWEST_AIRCRAFT} are needed for any bound`;
    return { kind: "none", why, fit };
  }
  if (fit.kind === "fitted" && fit.events >= EVENTS_FOR_FREE_SHAPE) {
    return { kind: "line", line: fittedLine(fit, confidence), fit };
  }
  const line = givenShapeLine(table, fit, confidence);
  if (line !== null) return { kind: "line", line, fit };
  return { kind: "none", why: "no life was looked at after its start, so nothing was seen to last", fit };
}

const survivalOf =
  ({ shape, scaleHours }: WeibullParameters) =>
  (hours: number): number =>
    Math.exp(-((hours / scaleHours) ** shape));

function fittedLine(fit: FittedWeibull, confidence: number): SurvivalLine {
  const region = traceRegion(fit, oneSidedDrop(confidence));
  return {
    method: "life",
    standsOn: `a Weibull fitted to ${fit.lives} lives with ${fit.events} over-limit events`,
    bounded: (quantity) => {
      const of = (parameters: WeibullParameters) => quantity(survivalOf(parameters));
      const { lower, upper } = extremesOver(region, of);
      return { estimate: of(fit), lower, upper };
    },
  };
}

/** With 0 to 2 events, or where no free fit exists: a given-shape Weibull, every number the worst over the shapes. */
function givenShapeLine(table: LifeTable, fit: WeibullFit, confidence: number): SurvivalLine | null {
  const bounded: (quantity: SurvivalQuantity) => Bounded | null = (quantity) => {
    const { estimate, lower, upper } = worstOverShapes(
      table,
      (parameters) => quantity(survivalOf(parameters)),
      confidence,
    );
    return estimate === null ? null : { estimate, lower, upper };
  };
  if (bounded((survival) => 1 - survival(1)) === null) return null;
  const { from, to } = DEFAULT_SHAPES;
  return {
    method: "life",
    standsOn: `a given-shape Weibull (shapes ${from} to ${to}, the worst counts) on ${fit.lives} lives with ${fit.events} over-limit events`,
    bounded: (quantity) => bounded(quantity)!,
  };
}
