import { power } from "../math/power.ts";
import type { LifeTable } from "../records/life-table.ts";
import { bestScale, DEFAULT_SHAPES, type ShapeRange } from "./given-shape.ts";
import { weibullLikelihood } from "./likelihood-terms.ts";
import type { WeibullParameters } from "./weibull-fit.ts";
import { logLikelihoodAt } from "./weibull-likelihood.ts";

const STEPS = 56;

/**
 * The best estimate where few events leave the shape open: of the shapes in the range the one that makes the lives
 * likeliest, with its own best scale. null without an event: the best estimate is then that nothing happens.
 */
export function likeliestShape(
  table: LifeTable,
  range: ShapeRange = DEFAULT_SHAPES,
): WeibullParameters | null {
  const data = weibullLikelihood(table);
  if (data.exact + data.intervals === 0) return null;
  let best: { parameters: WeibullParameters; logLikelihood: number } | null = null;
  for (let i = 0; i <= STEPS; i++) {
    const shape = range.from * power(range.to / range.from, i / STEPS);
    const scaleHours = bestScale(data, shape);
    if (scaleHours === null) continue;
    const logLikelihood = logLikelihoodAt(data, shape * (data.centre - Math.log(scaleHours)), shape);
    if (best === null || logLikelihood > best.logLikelihood)
      best = { parameters: { shape, scaleHours }, logLikelihood };
  }
  return best?.parameters ?? null;
}
