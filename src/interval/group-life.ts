/** Life of a group as it is reported: Weibull with two-sided bounds beside the nonparametric curve. */

import { halfwayHours, zeroEventStatement } from "../life/given-shape.ts";
import { twoSidedDrop } from "../life/likelihood-drop.ts";
import { survivalBounds } from "../life/likelihood-region.ts";
import { lifeAt, lifeBounds, scaleBounds, shapeBounds } from "../life/profile-bounds.ts";
import { traceRegion } from "../life/region-outline.ts";
import { type SurvivalOutcome, survivalCurve } from "../life/survival-curve.ts";
import { type FittedWeibull, fitWeibull, type WeibullFit } from "../life/weibull-fit.ts";
import { power } from "../math/power.ts";
import { type LifeTable, lifeKind } from "../records/life-table.ts";
import type { GroupLife } from "./life-findings.ts";

const CURVE_POINTS = 40;
/** Enough for a line on a chart. */
const CURVE_RAYS = 60;

/** The fits behind it, made once. */
export interface LifeFits {
  readonly fit: WeibullFit;
  readonly curve: SurvivalOutcome;
}

/** The fits of a group's life table, made once. */
export const lifeFits = (table: LifeTable, confidence: number): LifeFits => ({
  fit: fitWeibull(table),
  curve: survivalCurve(table, confidence),
});

/** A group's life as the pages show it: bounds two-sided at the confidence. */
export function groupLife(
  table: LifeTable,
  confidence: number,
  { fit, curve }: LifeFits = lifeFits(table, confidence),
): GroupLife {
  const drop = twoSidedDrop(confidence);
  const kinds = Array.from({ length: table.rows }, (_, row) => lifeKind(table, row));
  const livesWhere = (is: (row: number) => boolean) =>
    table.count.reduce((sum, count, row) => sum + (is(row) ? count : 0), 0);
  const lives = livesWhere(() => true);
  const running = livesWhere((row) => kinds[row] === "running");
  return {
    lives,
    events: lives - running,
    running,
    lateEntries: livesWhere((row) => table.entryHours[row]! > 0),
    weibull:
      fit.kind === "fitted"
        ? {
            shape: { estimate: fit.shape, ...sides(shapeBounds(fit, drop)) },
            scaleHours: { estimate: fit.scaleHours, ...sides(scaleBounds(fit, drop)) },
            tenPercentHours: { estimate: lifeAt(fit, 0.1), ...sides(lifeBounds(fit, 0.1, drop)) },
            logLikelihood: fit.logLikelihood,
          }
        : null,
    why: fit.kind === "fitted" ? null : fit.why,
    zeroEvents: zeroEventStatement(table, halfwayHours(table), confidence)?.sentence ?? null,
    survival:
      curve.kind === "curve"
        ? curve.points.map(({ hours, survival, lower, upper }) => ({ hours, survival, lower, upper }))
        : [],
    curve: fit.kind === "fitted" ? fittedCurve(fit, drop, table) : [],
    marks: kinds.map((kind, row) => ({
      kind,
      lower: table.lowerHours[row]!,
      upper: kind === "running" ? null : table.upperHours[row]!,
    })),
  };
}

const sides = ({ lower, upper }: { lower: number | null; upper: number | null }) => ({ lower, upper });

/** Fitted survival with pointwise likelihood-ratio bounds, on hours even in their logarithm. */
function fittedCurve(fit: FittedWeibull, drop: number, table: LifeTable): GroupLife["curve"] {
  const last = table.lowerHours.reduce((most, hours) => Math.max(most, hours), 0);
  const from = Math.max(1, lifeAt(fit, 0.001));
  const to = Math.max(2 * from, Math.min(last * 1.2, lifeAt(fit, 0.999)));
  const boundsAt = survivalBounds(traceRegion(fit, drop, CURVE_RAYS));
  return Array.from({ length: CURVE_POINTS }, (_, i) => {
    const hours = from * power(to / from, i / (CURVE_POINTS - 1));
    const survival = Math.exp(-power(hours / fit.scaleHours, fit.shape));
    const { lower, upper } = boundsAt(hours);
    return { hours, survival, lower: lower ?? 0, upper: upper ?? 1 };
  });
}
