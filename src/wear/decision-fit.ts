/**
 * The fit that decisions rest on: the distribution of wear rates in a group, by the marginal likelihood of
 * decision-likelihood.ts, for both families of rates, and apart for the components followed from new.
 *
 * A caller takes, for each risk, the worst over `fits`.
 */
import { clusterNumbers, sandwich } from "./aircraft-clusters.ts";
import type { ComponentSums } from "./component-sums.ts";
import {
  type DecisionData,
  type DecisionLikelihood,
  decisionLikelihood,
  PARAMETERS,
  parametersOf,
} from "./decision-likelihood.ts";
import { maximiseDecision, selectFrom } from "./decision-search.ts";
import type { RateFamily, RateParameters } from "./rate-families.ts";

/** Below this many components there is no bound. */
export const LEAST_COMPONENTS = 10;

/** Families whose AIC differs by less than this are both kept. */
const UNDECIDED_AIC = 4;

export interface RateFit {
  readonly family: RateFamily;
  /** Which components: all, or only those followed from new. */
  readonly sample: "all" | "from new";
  readonly components: number;
  readonly readings: number;
  /** Aircraft among the components (one standing alone counts as one). */
  readonly aircraft: number;
  /** Components that entered late and are weighed by their chance of entry. */
  readonly enteredLate: number;
  readonly parameters: RateParameters;
  readonly logLikelihood: number;
  readonly aic: number;
  /** θ of decision-likelihood.ts at the optimum. */
  readonly theta: Float64Array;
  /** Covariance of θ as if components were independent (inverse Hessian), 5 × 5 row-major. */
  readonly covariance: Float64Array;
  /** Covariance of θ with aircraft as clusters (sandwich with G/(G − 1)), 5 × 5 row-major. */
  readonly clusterCovariance: Float64Array;
  /** The likelihood itself, for bounds. */
  readonly likelihood: DecisionLikelihood;
  readonly cautions: readonly string[];
}

export interface DecisionFit {
  readonly kind: "fitted";
  /** Which family the readings prefer; "undecided" where AIC differs by less than 4. */
  readonly decided: RateFamily | "undecided";
  /** All fits that count: the families not ruled out, of all components and of those followed from new. */
  readonly fits: readonly RateFit[];
  /** Families whose search did not end: what they would have said is not known, and not reckoned with. */
  readonly notFitted: readonly RateFamily[];
  /** Why the components followed from new have no fit of their own; null where they have. */
  readonly noFitFromNew: string | null;
}

export type DecisionFitResult =
  | DecisionFit
  | { readonly kind: "too-few"; readonly components: number; readonly readings: number; readonly why: string }
  | { readonly kind: "not-converged"; readonly why: string };

/**
 * Fits a group.
 *
 * @returns the fits, or why there is none: fewer than 10 components, no component read often enough to tell the
 *          scatter, or a search that did not end for either family
 */
export function fitDecision(data: DecisionData): DecisionFitResult {
  const { components, readings } = data.sums;
  const refuse = (why: string) => ({ kind: "too-few", components, readings, why }) as const;
  if (components < LEAST_COMPONENTS) {
    const read = `${components} ${components === 1 ? "component" : "components"} with readings`;
    return refuse(`${read}; ${LEAST_COMPONENTS} are needed for any bound`);
  }
  if (repeatReadings(data.sums) < LEAST_COMPONENTS) {
    return refuse("hardly any component was read twice, so wear can't be told from measurement scatter");
  }
  const whole = fitFamilies(data, "all");
  if (whole.fits.length === 0) return { kind: "not-converged", why: whole.why };
  const fromNew = selectFromNew(data);
  const late = components - fromNew.sums.components;
  if (late === 0) {
    return { ...fittedAs(whole, whole.fits), noFitFromNew: "all components were followed from new" };
  }
  if (fromNew.sums.components < LEAST_COMPONENTS || repeatReadings(fromNew.sums) < LEAST_COMPONENTS) {
    const noFitFromNew = `${fromNew.sums.components} components followed from new; ${LEAST_COMPONENTS} are needed`;
    return { ...fittedAs(whole, whole.fits), noFitFromNew };
  }
  const apart = fitFamilies(fromNew, "from new", whole.decided);
  return {
    ...fittedAs(whole, [...whole.fits, ...apart.fits]),
    noFitFromNew: apart.fits.length === 0 ? apart.why : null,
  };
}

const fittedAs = ({ decided, notFitted }: ReturnType<typeof fitFamilies>, fits: readonly RateFit[]) =>
  ({ kind: "fitted", decided, fits, notFitted }) as const;

/** Readings beyond the first of each component: what the measurement scatter is told by. */
function repeatReadings(sums: ComponentSums): number {
  return sums.readings - sums.components;
}

function fitFamilies(data: DecisionData, sample: RateFit["sample"], decided?: DecisionFit["decided"]) {
  const families = (["lognormal", "normal"] as const).filter(
    (family) => decided === undefined || decided === "undecided" || decided === family,
  );
  const results = families.map((family) => fitFamily(data, family, sample));
  const fitted = results.filter((result) => result.kind === "fitted").map((result) => result.fit);
  const why = "the search for the distribution of rates did not end";
  const notFitted = families.filter((_, k) => results[k]!.kind !== "fitted");
  if (fitted.length === 0) return { fits: [], decided: "undecided" as const, notFitted, why };
  const best = Math.min(...fitted.map((fit) => fit.aic));
  const kept = fitted.filter((fit) => fit.aic < best + UNDECIDED_AIC);
  const one = kept.length === 1 ? kept[0]!.family : ("undecided" as const);
  return { fits: kept, decided: one, notFitted, why };
}

type FamilyFit = { kind: "fitted"; fit: RateFit } | { kind: "not-converged" };

/** Maximum likelihood for one family. */
export function fitFamily(data: DecisionData, family: RateFamily, sample: RateFit["sample"]): FamilyFit {
  const likelihood = decisionLikelihood(data, family);
  const found = maximiseDecision(data, family, likelihood);
  if (found === null) return { kind: "not-converged" };
  const { theta, logLikelihood, covariance } = found;
  const clusters = clusterNumbers(data.aircraft);
  const parameters = parametersOf(family, theta);
  const enteredLate = data.entryHours.reduce((late, hours) => late + (hours > 0 ? 1 : 0), 0);
  const cautions =
    parameters.spread < 1e-3
      ? ["The best estimate of the rates' spread is zero: components look alike."]
      : [];
  return {
    kind: "fitted",
    fit: {
      family,
      sample,
      components: data.sums.components,
      readings: data.sums.readings,
      aircraft: clusters.count,
      enteredLate,
      parameters,
      logLikelihood,
      aic: 2 * PARAMETERS - 2 * logLikelihood,
      theta,
      covariance,
      clusterCovariance: sandwich(covariance, likelihood.scores(theta), clusters),
      likelihood,
      cautions,
    },
  };
}

/** The data of the components that were followed from new. */
function selectFromNew(data: DecisionData): DecisionData {
  const kept: number[] = [];
  for (let i = 0; i < data.sums.components; i++) if (!(data.entryHours[i]! > 0)) kept.push(i);
  return selectFrom(data, kept);
}
