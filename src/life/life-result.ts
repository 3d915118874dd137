/** The answer of `rotorwear life`, as its JSON (schema rotorwear/life/1): one entry a group, numbers to 10 digits. */
import { type LifeTable, lifeKind } from "../records/life-table.ts";
import { published } from "../units.ts";
import { compareFamilies } from "./alternatives.ts";
import { type ComparisonJson, compareGroups } from "./compare-groups.ts";
import { halfwayHours, type ZeroEventStatement, zeroEventStatement } from "./given-shape.ts";
import { type Bounds, twoSidedDrop } from "./likelihood-drop.ts";
import { naiveViews } from "./naive.ts";
import type { LifeGroup } from "./parse-life-table.ts";
import { lifeAt, lifeBounds, scaleBounds, shapeBounds } from "./profile-bounds.ts";
import { survivalCurve } from "./survival-curve.ts";
import { type FittedWeibull, fitWeibull } from "./weibull-fit.ts";

type Unbounded = "lower" | "upper" | "both";

export interface ParameterJson {
  readonly estimate: number;
  readonly standard_error: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly unbounded?: Unbounded;
}

export interface LifeAtJson {
  readonly fraction: number;
  readonly hours: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly unbounded?: Unbounded;
}

export interface WeibullJson {
  readonly shape: ParameterJson;
  readonly scale: ParameterJson;
  readonly log_likelihood: number;
  readonly lives_at: readonly LifeAtJson[];
}

export interface LifeGroupJson {
  readonly group: string;
  readonly lives: number;
  readonly exact: number;
  readonly interval: number;
  readonly left: number;
  readonly running: number;
  readonly weibull: WeibullJson | null;
  /** Why there is no Weibull; only then. */
  readonly why?: string;
  /** What lives without any event show, one-sided at the confidence; only then. */
  readonly zero_events?: {
    readonly hours: number;
    readonly lives: number;
    readonly survival_at_least: number;
    readonly sentence: string;
  };
  readonly alternatives: readonly { family: string; log_likelihood: number; aic: number }[];
  readonly survival: readonly {
    hours: number;
    survival: number;
    lower: number | null;
    upper: number | null;
  }[];
  /** Only where the curve does not begin at new: it is survival given that these hours were reached. */
  readonly survival_given_hours?: number;
  readonly cautions?: readonly string[];
  /** What shortcuts would have said of the 10 % life; only where asked for. */
  readonly naive?: readonly NaiveJson[];
}

export interface NaiveJson {
  readonly name: string;
  readonly ten_percent_life_hours: number | null;
  /** Naive over proper; null where one of them has no fit. */
  readonly ratio: number | null;
  readonly sentence: string;
}

export interface LifeResultJson {
  readonly schema: "rotorwear/life/1";
  readonly confidence: number;
  readonly groups: readonly LifeGroupJson[];
  /** The groups against the one with most lives; only where there are several. */
  readonly comparison?: ComparisonJson;
}

/** The fractions whose lives are published. */
const FRACTIONS = [0.01, 0.05, 0.1, 0.5];

/**
 * Weibull, alternatives and nonparametric curve of each group.
 *
 * @param options.confidence  of the two-sided bounds. __Default value:__ 0.95
 * @param options.naive       also what shortcuts would have said. __Default value:__ false
 */
export function lifeResult(
  groups: readonly LifeGroup[],
  options: { readonly confidence?: number; readonly naive?: boolean } = {},
): LifeResultJson {
  const confidence = options.confidence ?? 0.95;
  return {
    schema: "rotorwear/life/1",
    confidence,
    groups: groups.map((group) => ({
      ...groupResult(group.group, group.table, confidence),
      ...(options.naive ? { naive: naiveResult(group) } : {}),
    })),
    ...(groups.length > 1 ? { comparison: compareGroups(groups, confidence) } : {}),
  };
}

function groupResult(group: string, table: LifeTable, confidence: number): LifeGroupJson {
  const kinds = { exact: 0, interval: 0, left: 0, running: 0 };
  let lives = 0;
  for (let i = 0; i < table.rows; i++) {
    kinds[lifeKind(table, i)] += table.count[i]!;
    lives += table.count[i]!;
  }
  const fit = fitWeibull(table);
  const curve = survivalCurve(table, confidence);
  const zero = zeroEventStatement(table, halfwayHours(table), confidence);
  const points = curve.kind === "curve" ? curve.points : [];
  return {
    group,
    lives,
    ...kinds,
    weibull: fit.kind === "fitted" ? weibullResult(fit, twoSidedDrop(confidence)) : null,
    ...(fit.kind === "none" ? { why: fit.why } : {}),
    ...(zero === null ? {} : { zero_events: zeroJson(zero) }),
    alternatives: compareFamilies(table, fit).map(({ family, logLikelihood, aic }) => ({
      family,
      log_likelihood: published(logLikelihood),
      aic: published(aic),
    })),
    survival: points.map(({ hours, survival, lower, upper }) => ({
      hours: published(hours),
      survival: published(survival),
      lower: lower === null ? null : published(lower),
      upper: upper === null ? null : published(upper),
    })),
    ...(curve.kind === "curve" && curve.givenHours > 0
      ? { survival_given_hours: published(curve.givenHours), cautions: curve.cautions }
      : {}),
  };
}

const zeroJson = ({ hours, lives, survivalAtLeast, sentence }: ZeroEventStatement) => ({
  hours: published(hours),
  lives,
  survival_at_least: published(survivalAtLeast),
  sentence,
});

function naiveResult({ table, hoursFlown }: LifeGroup): NaiveJson[] {
  return naiveViews(table, hoursFlown === undefined ? {} : { hoursFlown }).map(
    ({ name, fit, lifeRatio, sentence }) => ({
      name,
      ten_percent_life_hours: fit.kind === "fitted" ? published(lifeAt(fit, 0.1)) : null,
      ratio: lifeRatio === null ? null : published(lifeRatio),
      sentence,
    }),
  );
}

function weibullResult(fit: FittedWeibull, drop: number): WeibullJson {
  const parameter = (estimate: number, standardError: number, bounds: Bounds): ParameterJson => ({
    estimate: published(estimate),
    standard_error: published(standardError),
    ...boundsJson(bounds),
  });
  return {
    shape: parameter(fit.shape, fit.shapeStandardError, shapeBounds(fit, drop)),
    scale: parameter(fit.scaleHours, fit.scaleStandardErrorHours, scaleBounds(fit, drop)),
    log_likelihood: published(fit.logLikelihood),
    lives_at: FRACTIONS.map((fraction) => ({
      fraction,
      hours: published(lifeAt(fit, fraction)),
      ...boundsJson(lifeBounds(fit, fraction, drop)),
    })),
  };
}

function boundsJson({ lower, upper, unbounded }: Bounds): Bounds {
  return {
    lower: lower === null ? null : published(lower),
    upper: upper === null ? null : published(upper),
    ...(unbounded === undefined ? {} : { unbounded }),
  };
}
