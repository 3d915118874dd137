/**
 * Does the Weibull describe the lives? Checks that can fail, and that don't fail trivially when lives are many: by how much
 * the decision's risk moves under the best alternative; where the fitted curve leaves the bounds of the nonparametric one;
 * and which single lives and aircraft move the 10 % life.
 */
import { power } from "../math/power.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type AlternativeFit, familySurvival } from "./alternatives.ts";
import { inverseInformation, rowLikelihood } from "./cluster.ts";
import type { SurvivalRisk } from "./decision-line.ts";
import { likelihoodUnder } from "./likelihood-terms.ts";
import { lifeAt } from "./profile-bounds.ts";
import { type SurvivalOutcome, survivalCurve } from "./survival-curve.ts";
import { type FittedWeibull, likeliestPoint } from "./weibull-fit.ts";

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

/**
 * How much a risk changes under the best alternative; null where the Weibull or every other could not be fitted, or the
 * risk is 0.
 *
 * @param families  as `compareFamilies` gives them
 */
export function alternativeRisk(
  families: readonly AlternativeFit[],
  risk: SurvivalRisk,
): AlternativeRisk | null {
  const weibull = families.find((each) => each.family === "weibull");
  const best = families.find((each) => each.family !== "weibull");
  if (weibull === undefined || best === undefined) return null;
  const riskOf = (each: AlternativeFit) => risk(familySurvival(each));
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

/**
 * The lives (each row once) and aircraft whose leaving out moves the life at a fraction most, greatest first. Which they
 * are is judged by the first step of a fit without them; those are then fitted again.
 */
export function influences(fit: FittedWeibull, table: LifeTable, fraction = 0.1, most = 5): Influence[] {
  const full = lifeAt(fit, fraction);
  const likelihoodOf = likelihoodUnder(table);
  const without = ({ row, cluster }: Candidate): number | null => {
    const kept = (i: number, count: number) =>
      i === row ? count - 1 : cluster !== null && table.cluster[i] === cluster ? 0 : count;
    const count = table.count.map((lives, i) => kept(i, lives));
    const again = likeliestPoint(likelihoodOf(count, fit.likelihood.centre), fit);
    return again === null ? null : lifeAt(again, fraction) / full;
  };
  const size = ({ lifeRatio }: Influence) =>
    lifeRatio === null ? Number.POSITIVE_INFINITY : Math.abs(Math.log(lifeRatio));
  return candidates(fit, table, fraction)
    .slice(0, 2 * most)
    .map((one) => ({ row: one.row, cluster: one.cluster, lifeRatio: without(one) }))
    .sort((a, b) => size(b) - size(a))
    .slice(0, most);
}

interface Candidate {
  readonly row: number | null;
  readonly cluster: number | null;
  /** Change of the log life at the first step, sign left out. */
  readonly step: number;
}

/** Aircraft, and lives with an event: those that still run move an early life little one by one. Largest step first. */
function candidates(fit: FittedWeibull, table: LifeTable, fraction: number): Candidate[] {
  const [aa, ab, , bb] = inverseInformation(fit);
  const { alpha, beta } = fit;
  // ln(life) = centre + (ln(-ln(1 - fraction)) - alpha)/beta.
  const slopeBeta = -(Math.log(-Math.log1p(-fraction)) - alpha) / (beta * beta);
  const stepOf = (a: number, b: number) => Math.abs((aa * a + ab * b) / beta - slopeBeta * (ab * a + bb * b));
  const clusters = new Map<number, { a: number; b: number }>();
  const lives: Candidate[] = [];
  for (let row = 0; row < table.rows; row++) {
    const count = table.count[row]!;
    if (count === 0) continue;
    const { gradAlpha: a, gradBeta: b } = rowLikelihood(table, row, fit);
    const cluster = table.cluster[row]!;
    if (cluster >= 0) {
      const sum = clusters.get(cluster) ?? { a: 0, b: 0 };
      clusters.set(cluster, { a: sum.a + count * a, b: sum.b + count * b });
    }
    if (table.upperHours[row] !== Number.POSITIVE_INFINITY)
      lives.push({ row, cluster: null, step: stepOf(a, b) });
  }
  const aircraft = [...clusters].map(([cluster, { a, b }]) => ({ row: null, cluster, step: stepOf(a, b) }));
  return [...aircraft, ...lives].sort((one, other) => other.step - one.step);
}
