/** The result of the `wear` command, in the shape of its JSON (`rotorwear/wear/1`); numbers to 10 significant digits. */
import { studentQuantile } from "../math/distributions.ts";
import type { WearTable } from "../records/wear-table.ts";
import { published } from "../units.ts";
import { componentSums } from "./component-sums.ts";
import { wearCurvature } from "./curvature.ts";
import { type Estimate, fitMixedModel, type MixedModel } from "./mixed-model.ts";
import type { WearGroup } from "./parse-wear-table.ts";

export interface EstimateJson {
  readonly estimate: number;
  readonly standard_error: number;
  readonly lower: number;
  readonly upper: number;
}

/** Hours at which the group's line reaches a limit; a bound that does not exist is null with `unbounded`. */
export interface HoursToLimitJson {
  readonly limit_mm: number;
  readonly estimate: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly unbounded?: "lower" | "upper" | "both";
  readonly why?: string;
}

export interface WearGroupJson {
  readonly group: string;
  readonly components: number;
  readonly readings: number;
  readonly intercept_mm: EstimateJson | null;
  readonly rate_mm_per_1000h: EstimateJson | null;
  readonly component_sd: {
    readonly intercept_mm: number;
    readonly rate_mm_per_1000h: number;
    readonly correlation: number | null;
  } | null;
  readonly measurement_sd_mm: number | null;
  readonly log_likelihood: number | null;
  readonly cautions: readonly string[];
  readonly hours_to_limit?: HoursToLimitJson;
  /** Why there is no fit; only where the estimates are null. */
  readonly why?: string;
}

export interface WearJson {
  readonly schema: "rotorwear/wear/1";
  readonly confidence: number;
  readonly groups: readonly WearGroupJson[];
}

export interface WearOptions {
  /** Two-sided. __Default value:__ 0.95 */
  readonly confidence?: number;
  /** Adds the hours at which the group's line reaches this wear. */
  readonly limitMm?: number;
}

/** Fits every group of a wear table. */
export function wearResult(groups: readonly WearGroup[], options: WearOptions = {}): WearJson {
  const confidence = options.confidence ?? 0.95;
  return {
    schema: "rotorwear/wear/1",
    confidence,
    groups: groups.map((group) => groupResult(group, confidence, options.limitMm)),
  };
}

function groupResult({ group, table }: WearGroup, confidence: number, limitMm?: number): WearGroupJson {
  const sums = componentSums(table);
  const fit = fitMixedModel(sums, confidence);
  const counts = { group, components: sums.components, readings: sums.readings };
  if (fit.kind !== "fitted") {
    return {
      ...counts,
      intercept_mm: null,
      rate_mm_per_1000h: null,
      component_sd: null,
      measurement_sd_mm: null,
      log_likelihood: null,
      cautions: [],
      why: fit.why,
    };
  }
  const { interceptMm, rateMmPer1000Hours, correlation } = fit.componentSd;
  return {
    ...counts,
    intercept_mm: estimateJson(fit.interceptMm),
    rate_mm_per_1000h: estimateJson(fit.rateMmPer1000Hours),
    component_sd: {
      intercept_mm: published(interceptMm),
      rate_mm_per_1000h: published(rateMmPer1000Hours),
      correlation: correlation === null ? null : published(correlation),
    },
    measurement_sd_mm: published(fit.measurementSdMm),
    log_likelihood: published(fit.logLikelihood),
    cautions: [...fit.cautions, ...bendCautions(table, confidence)],
    ...(limitMm === undefined ? {} : { hours_to_limit: hoursToLimit(fit, limitMm, confidence) }),
  };
}

/** A straight line where the paths bend reaches a limit at the wrong hours: that is said beside it. */
function bendCautions(table: WearTable, confidence: number): string[] {
  const bend = wearCurvature(table, 0.5 + confidence / 2);
  if (bend.kind !== "fitted" || bend.verdict === "straight") return [];
  const bounds = `${bend.lower.toFixed(2)} to ${bend.upper.toFixed(2)}`;
  const consequence =
    bend.verdict === "bends up"
      ? "wear speeds up, and a straight line reaches a limit too late"
      : "wear slows down, and a straight line reaches a limit too early";
  return [
    `Within components wear goes as hours^${bend.exponent.toFixed(2)} (${bounds}, not 1): ${consequence}.`,
  ];
}

const estimateJson = (e: Estimate): EstimateJson => ({
  estimate: published(e.estimate),
  standard_error: published(e.standardError),
  lower: published(e.lower),
  upper: published(e.upper),
});

/**
 * Hours at which the group's line a + b·h reaches the limit, with the bounds of the line's own uncertainty: all h at
 * which (a + b·h − limit)² ≤ t²·Var(a + b·h). It is the average component's hours, not a chance for any one of them.
 *
 * Source: Fieller (1954), J. R. Stat. Soc. B 16, 175-185.
 */
export function hoursToLimit(fit: MixedModel, limitMm: number, confidence: number): HoursToLimitJson {
  const rate = fit.rateMmPer1000Hours.estimate / 1000;
  const rateVariance = (fit.rateMmPer1000Hours.standardError / 1000) ** 2;
  const missing = fit.interceptMm.estimate - limitMm;
  if (!(rate > 0)) {
    const why = "the wear does not grow with hours";
    return { limit_mm: limitMm, estimate: null, lower: null, upper: null, unbounded: "both", why };
  }
  const t2 = studentQuantile(0.5 + confidence / 2, fit.degreesOfFreedom) ** 2;
  // (missing + rate·h)² − t²(v00 + 2·v01·h + v11·h²) = c0 + 2·c1·h + c2·h²
  const c0 = missing ** 2 - t2 * fit.interceptMm.standardError ** 2;
  const c1 = missing * rate - t2 * fit.fixedCovariance;
  const c2 = rate ** 2 - t2 * rateVariance;
  const root = Math.sqrt(Math.max(0, c1 * c1 - c0 * c2));
  const estimate = published(-missing / rate);
  if (!(c2 > 0)) {
    // The rate itself can't be told from zero: the line may never reach the limit.
    const lower = c0 > 0 ? published(c0 / (-c1 + root)) : null;
    const unbounded = lower === null ? "both" : "upper";
    return { limit_mm: limitMm, estimate, lower, upper: null, unbounded };
  }
  return {
    limit_mm: limitMm,
    estimate,
    lower: published((-c1 - root) / c2),
    upper: published((-c1 + root) / c2),
  };
}
