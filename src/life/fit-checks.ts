/**
 * Does the Weibull describe the lives? Checks that can fail, and that don't fail trivially when lives are many: by how much
 * the decision's risk moves under the best alternative; where the fitted curve leaves the bounds of the nonparametric one;
 * and which single lives and aircraft move the 10 % life.
 */
import { power } from "../math/power.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type AlternativeFit, compareFamilies, logSurvivalOf } from "./alternatives.ts";
import type { SurvivalRisk } from "./decision-line.ts";
import { lifeAt } from "./profile-bounds.ts";
import { type SurvivalOutcome, survivalCurve } from "./survival-curve.ts";
import { type FittedWeibull, fitWeibull } from "./weibull-fit.ts";

export interface AlternativeRisk {
  /** The best family other than the Weibull, by AIC. */
  readonly best: AlternativeFit;
  /** Its AIC less the Weibull's: below 0, it fits better. */
  readonly aicDifference: number;
  readonly weibullRisk: number;
  readonly alternativeRisk: number;
  /** (alternative - Weibull)/Weibull. */
  readonly change: number;
}

/** How much a risk changes under the best alternative; null where none could be fitted or the risk is 0. */
export function alternativeRisk(
  fit: FittedWeibull,
  table: LifeTable,
  risk: SurvivalRisk,
): AlternativeRisk | null {
  const families = compareFamilies(table, fit);
  const weibull = families.find((each) => each.family === "weibull")!;
  const best = families.find((each) => each.family !== "weibull");
  if (best === undefined) return null;
  const riskOf = (each: AlternativeFit) => risk((hours) => Math.exp(logSurvivalOf(each, hours)));
  const [weibullRisk, other] = [riskOf(weibull), riskOf(best)];
  if (!(weibullRisk > 0)) return null;
  return {
    best,
    aicDifference: best.aic - weibull.aic,
    weibullRisk,
    alternativeRisk: other,
    change: (other - weibullRisk) / weibullRisk,
  };
}

export interface CurveCheck {
  /** Points of the nonparametric curve that have bounds, and how many of them the fitted curve is outside of. */
  readonly points: number;
  readonly outside: number;
  /** Greatest distance of the two curves in survival, and where. */
  readonly greatestDistance: number;
  readonly atHours: number;
  /** True where at most the share expected by chance, plus two standard errors, is outside. */
  readonly agrees: boolean;
}

/** The fitted curve against the nonparametric one's pointwise bounds; null where there is no curve with bounds. */
export function curveCheck(
  fit: FittedWeibull,
  table: LifeTable,
  confidence = 0.95,
  curve: SurvivalOutcome = survivalCurve(table, confidence),
): CurveCheck | null {
  if (curve.kind === "none") return null;
  const fitted = (hours: number) => Math.exp(-power(hours / fit.scaleHours, fit.shape));
  const given = fitted(curve.givenHours);
  const bounded = curve.points.filter((point) => point.lower !== null && point.upper !== null);
  if (bounded.length === 0) return null;
  const checked = bounded.map((point) => {
    const survival = fitted(point.hours) / given;
    return {
      hours: point.hours,
      distance: Math.abs(survival - point.survival),
      // The step's own foot: between the steps the nonparametric curve may lie anywhere in (fromHours, hours].
      outside: fitted(point.fromHours) / given < point.lower! || survival > point.upper!,
    };
  });
  const outside = checked.filter((point) => point.outside).length;
  const farthest = checked.reduce((most, point) => (point.distance > most.distance ? point : most));
  const share = 1 - confidence;
  const allowed = share + 2 * Math.sqrt((share * (1 - share)) / bounded.length);
  return {
    points: bounded.length,
    outside,
    greatestDistance: farthest.distance,
    atHours: farthest.hours,
    agrees: outside / bounded.length <= allowed,
  };
}

export interface Influence {
  /** Row or cluster left out. */
  readonly row: number | null;
  readonly cluster: number | null;
  /** The life without it over the life with it; null where nothing can be fitted without it. */
  readonly lifeRatio: number | null;
}

/** The lives (each row once) and aircraft whose leaving out moves the life at a fraction most, greatest first. */
export function influences(fit: FittedWeibull, table: LifeTable, fraction = 0.1, most = 5): Influence[] {
  const full = lifeAt(fit, fraction);
  const without = (keep: (row: number) => number): number | null => {
    const again = fitWeibull({ ...table, count: table.count.map((count, i) => count * keep(i)) });
    return again.kind === "fitted" ? lifeAt(again, fraction) / full : null;
  };
  const found: Influence[] = [];
  for (const cluster of new Set(table.cluster)) {
    if (cluster < 0) continue;
    found.push({ row: null, cluster, lifeRatio: without((i) => (table.cluster[i] === cluster ? 0 : 1)) });
  }
  // Lives that still run move an early life little one by one; those with an event can move it a lot.
  for (let row = 0; row < table.rows; row++) {
    const count = table.count[row]!;
    if (count === 0 || table.upperHours[row] === Number.POSITIVE_INFINITY) continue;
    found.push({ row, cluster: null, lifeRatio: without((i) => (i === row ? (count - 1) / count : 1)) });
  }
  const size = ({ lifeRatio }: Influence) =>
    lifeRatio === null ? Number.POSITIVE_INFINITY : Math.abs(Math.log(lifeRatio));
  return found.sort((a, b) => size(b) - size(a)).slice(0, most);
}
