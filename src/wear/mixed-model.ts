/**
 * Random intercept and slope by component, full covariance, by restricted maximum likelihood.
 *
 *   wear_ij = (intercept + u_i) + (rate + v_i)·hours_ij + e_ij,  (u_i, v_i) ~ N(0, D),  e_ij ~ N(0, σ²)
 *
 * σ² and the two fixed effects are profiled out; what is left is D/σ² = L·L', searched over the three entries of the
 * triangular L without bounds. The criterion is even in each diagonal entry, so a zero variance or a correlation of ±1
 * is an ordinary minimum at 0 and not a flat run towards it.
 * Source: Laird and Ware (1982), Biometrics 38, 963-974; Pinheiro and Bates (2000), Mixed-Effects Models in S and
 * S-PLUS, section 2.2. Checked: tests/wear/mixed-model.test.ts against R's nlme.
 */
import { studentQuantile } from "../math/distributions.ts";
import type { ComponentSums } from "./component-sums.ts";
import { type CrossProducts, crossProducts, type Symmetric } from "./reml-criterion.ts";
import { type Covariance, fitRelativeCovariance } from "./reml-search.ts";

export interface Estimate {
  readonly estimate: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

/** Which part of the covariance lies on its boundary; the reduced model has the same likelihood. */
export type Boundary =
  | "none"
  | "no slope variance"
  | "no intercept variance"
  | "no component variance"
  | "correlation +1"
  | "correlation -1";

export interface MixedModel {
  readonly kind: "fitted";
  readonly components: number;
  readonly readings: number;
  readonly degreesOfFreedom: number;
  readonly interceptMm: Estimate;
  readonly rateMmPer1000Hours: Estimate;
  /** Covariance of the two fixed effects, mm · mm per hour. */
  readonly fixedCovariance: number;
  readonly componentSd: {
    readonly interceptMm: number;
    readonly rateMmPer1000Hours: number;
    /** Null where one of the variances is zero. */
    readonly correlation: number | null;
  };
  readonly measurementSdMm: number;
  /** Restricted log-likelihood with its constants, as nlme prints it (hours and millimetres as given). */
  readonly logLikelihood: number;
  readonly boundary: Boundary;
  readonly cautions: readonly string[];
}

export type MixedModelResult =
  | MixedModel
  | { readonly kind: "too-few"; readonly components: number; readonly readings: number; readonly why: string }
  | { readonly kind: "not-converged"; readonly iterations: number; readonly why: string };

/**
 * REML fit from component sums.
 *
 * @param confidence two-sided, for the t bounds with readings − components − 1 degrees of freedom
 * @returns the fit, or why there is none: fewer than two components or no degrees of freedom, hours that do not differ,
 *          readings without any scatter
 */
export function fitMixedModel(sums: ComponentSums, confidence = 0.95): MixedModelResult {
  const { components, readings } = sums;
  const degreesOfFreedom = readings - components - 1;
  const refuse = (why: string) => ({ kind: "too-few", components, readings, why }) as const;
  if (components < 2) return refuse("at least two components are needed to tell their spread");
  if (degreesOfFreedom < 1) {
    return refuse(`${readings} readings of ${components} components leave nothing to tell scatter by`);
  }
  const data = crossProducts(sums);
  if (data === null) return refuse("the hours of the readings do not differ");
  const search = fitRelativeCovariance(sums, data);
  if (search.kind !== "found") return search;
  return assemble(data, search.covariance, confidence, degreesOfFreedom);
}

function assemble(
  data: CrossProducts,
  found: Covariance,
  confidence: number,
  degreesOfFreedom: number,
): MixedModel {
  const t = studentQuantile(0.5 + confidence / 2, degreesOfFreedom);
  const bounded = (estimate: number, variance: number): Estimate => {
    const standardError = Math.sqrt(Math.max(0, variance));
    return {
      estimate,
      standardError,
      lower: estimate - t * standardError,
      upper: estimate + t * standardError,
    };
  };
  const sigma = Math.sqrt(found.residualVariance);
  const perThousand = 1000 / data.scaleHours;
  // From the centre of the hours back to zero hours: intercept(0) = intercept(centre) − origin·slope.
  const origin = data.centreHours / data.scaleHours;
  const toZero = ([s00, s01, s11]: Symmetric): Symmetric => [
    s00 - 2 * origin * s01 + origin * origin * s11,
    s01 - origin * s11,
    s11,
  ];
  const [v00, v01, v11] = toZero(found.fixedCovariance);
  const [d00, d01, d11] = toZero(found.relative);
  const boundary = found.boundary === "correlation +1" && d01 < 0 ? "correlation -1" : found.boundary;
  const noIntercept = boundary === "no intercept variance" || boundary === "no component variance";
  const noSlope = boundary === "no slope variance" || boundary === "no component variance";
  return {
    kind: "fitted",
    components: data.components,
    readings: data.readings,
    degreesOfFreedom,
    interceptMm: bounded(found.fixed[0] - origin * found.fixed[1], v00),
    rateMmPer1000Hours: bounded(found.fixed[1] * perThousand, v11 * perThousand ** 2),
    fixedCovariance: v01 / data.scaleHours,
    componentSd: {
      interceptMm: noIntercept ? 0 : sigma * Math.sqrt(Math.max(0, d00)),
      rateMmPer1000Hours: noSlope ? 0 : sigma * Math.sqrt(d11) * perThousand,
      correlation: noIntercept || noSlope ? null : Math.max(-1, Math.min(1, d01 / Math.sqrt(d00 * d11))),
    },
    measurementSdMm: sigma,
    logLikelihood: found.logLikelihood - Math.log(data.scaleHours),
    boundary,
    cautions: cautionsOf(boundary),
  };
}

function cautionsOf(boundary: Boundary): string[] {
  switch (boundary) {
    case "none":
      return [];
    case "no slope variance":
      return ["Components can't be told apart by rate: the best estimate of the rates' spread is zero."];
    case "no intercept variance":
      return ["Components can't be told apart at zero hours: the best estimate of that spread is zero."];
    case "no component variance":
      return ["Components can't be told apart: the readings' own scatter explains all differences."];
    default:
      return [
        `The fit is on its edge (${boundary}): intercepts and rates can't be told apart as separate spreads.`,
      ];
  }
}
