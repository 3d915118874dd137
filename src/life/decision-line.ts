/**
 * The life model as a decision sees it: survival below the limit, whose uncertainty can be carried to any quantity.
 *
 * With 3 events or more a free Weibull: the quantity's extremes over the likelihood region, the drop widened for aircraft
 * (cluster.ts) and, for few events, by calibration (calibrate.ts). With 0 to 2 events a Weibull of given shape over its
 * whole range (given-shape.ts), never a free fit.
 */
import { power } from "../math/power.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type CalibratedDrops, dropsAt, simulateRoots } from "./calibrate.ts";
import { type ClusterVariance, clusteredDrop, clusterVariance } from "./cluster.ts";
import {
  bootstrapValues,
  type ClusterBootstrap,
  clusterBootstrap,
  sortedQuantile,
} from "./cluster-bootstrap.ts";
import { DEFAULT_SHAPES, overShapes, type ShapeRange } from "./given-shape.ts";
import { oneSidedDrop } from "./likelihood-drop.ts";
import { extremeOfRisk } from "./likelihood-region.ts";
import { type LikelihoodRegion, traceRegion } from "./region-outline.ts";
import { type FittedWeibull, fitWeibull, type WeibullFit, type WeibullParameters } from "./weibull-fit.ts";

/** S(hours); who has the hours' logarithm already gives it too, and saves taking it. */
export type Survival = (hours: number, logHours?: number) => number;

/** A quantity of the survival curve, say a share of looks over limit. It must not rise where survival rises. */
export type SurvivalRisk = (survival: Survival) => number;

export interface BoundedRisk {
  readonly estimate: number;
  /** One-sided, each at the stated confidence; null: no bound. */
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Both bounds, or only the upper one (the lower is then null): about half the work. Or of the upper one only whether it is over
 * `upTo`: it is then exact where it is not, and else any number between `upTo` and the bound.
 */
export type BoundSide = "both" | "upper" | { readonly upTo: number };

export interface LifeLine {
  readonly kind: "free" | "given-shape";
  readonly fit: WeibullFit;
  /** What it stands on, in words. */
  readonly standsOn: string;
  readonly survival: Survival | null;
  readonly bounded: (risk: SurvivalRisk, side?: BoundSide) => BoundedRisk;
}

export type LifeLineOutcome =
  | LifeLine
  | { readonly kind: "none"; readonly fit: WeibullFit; readonly why: string };

export interface LifeLineOptions {
  readonly shapes?: ShapeRange;
  /** Resamples for the calibration (below 50 lives or 30 events) and for whole aircraft. __Default value:__ 400; 0: neither */
  readonly resamples?: number;
  readonly seed?: number;
}

const FEW_EVENTS = 3;

/** A table's fit and simulations, made once; the line at any one-sided confidence (above 0.5) comes from them. */
export function prepareLifeLine(
  table: LifeTable,
  options: LifeLineOptions = {},
  fit: WeibullFit = fitWeibull(table),
): (confidence: number) => LifeLineOutcome {
  if (fit.lives === 0) return () => ({ kind: "none", fit, why: "there are no lives in this group" });
  if (fit.kind === "fitted" && fit.events >= FEW_EVENTS) return freeLine(fit, table, options);
  if (fit.events < FEW_EVENTS) return (confidence) => givenLine(fit, table, confidence, options);
  return () => ({ kind: "none", fit, why: fit.kind === "none" ? fit.why : "no fit" });
}

/** The line of a table at one confidence. */
export const lifeLine = (
  table: LifeTable,
  options: LifeLineOptions & { readonly confidence: number },
): LifeLineOutcome => prepareLifeLine(table, options)(options.confidence);

/** S(hours) of a Weibull. */
export const survivalOf = ({ shape, scaleHours }: WeibullParameters): Survival => {
  const logScale = Math.log(scaleHours);
  return (hours, logHours = Math.log(hours)) => Math.exp(-Math.exp(shape * (logHours - logScale)));
};

function freeLine(
  fit: FittedWeibull,
  table: LifeTable,
  { resamples = 400, seed = 1 }: LifeLineOptions,
): (confidence: number) => LifeLine {
  const variance = clusterVariance(fit, table);
  const few = fit.lives < 50 || fit.events < 30;
  const simulated = few && resamples > 0 ? simulateRoots(fit, table, { resamples, seed }) : null;
  const clustered = variance.clusters < fit.lives;
  const bootstrap =
    clustered && resamples > 0 && variance.clusters > 1
      ? clusterBootstrap(fit, table, { seed, resamples })
      : null;
  const standsOn = [
    `Weibull fit to ${fit.lives} lives with ${fit.events} events`,
    clustered ? ", lives of one aircraft taken as alike" : "",
    simulated === null ? "" : ", bounds calibrated by simulation",
  ].join("");
  return (confidence) => {
    const calibrated = simulated === null ? null : dropsAt(simulated, confidence);
    const bounded = freeBounds(fit, variance, calibrated, bootstrap, confidence);
    return { kind: "free", fit, standsOn, survival: survivalOf(fit), bounded };
  };
}

/**
 * Likelihood bounds widened for aircraft; with lives of one aircraft in the table also the pivotal bootstrap of whole
 * aircraft on the log risk, and of the two the wider. (In simulation the widened likelihood alone misses 9-11 % instead of
 * 5 % where lives of one aircraft are strongly alike, and the pivotal bootstrap 3-5 %.)
 *
 * Regions are traced once a drop; the drop is rounded up to steps of 2 %, so that neighbouring risks share one.
 */
function freeBounds(
  fit: FittedWeibull,
  variance: ClusterVariance,
  calibrated: CalibratedDrops | null,
  bootstrap: ClusterBootstrap | null,
  confidence: number,
): (risk: SurvivalRisk, side?: BoundSide) => BoundedRisk {
  const plain = oneSidedDrop(confidence);
  const regions = new Map<number, LikelihoodRegion>();
  const regionOf = (drop: number): LikelihoodRegion => {
    const step = Math.ceil(Math.log(drop / plain) / Math.log(1.02) - 1e-9);
    const known = regions.get(step);
    if (known !== undefined) return known;
    const traced = traceRegion(fit, plain * power(1.02, step), 72);
    regions.set(step, traced);
    return traced;
  };
  return (risk, side = "both") => {
    const quantity = (parameters: WeibullParameters) => risk(survivalOf(parameters));
    const estimate = quantity(fit);
    const widened = (drop: number) => clusteredDrop(fit, variance, quantity, drop, confidence);
    // The upper bound of a risk is the lower bound of life.
    const up = widened(calibrated?.shortLife ?? plain);
    if (!Number.isFinite(up)) return { estimate, lower: null, upper: null };
    const upper = extremeOfRisk(regionOf(up), quantity, 1);
    const level = typeof side === "object" ? side.upTo : Number.POSITIVE_INFINITY;
    if (upper !== null && upper > level) return { estimate, lower: null, upper };
    const lower =
      side === "both" ? extremeOfRisk(regionOf(widened(calibrated?.longLife ?? plain)), quantity, -1) : null;
    if (bootstrap === null) return { estimate, lower, upper };
    return widerOf({ estimate, lower, upper }, bootstrapValues(bootstrap, quantity), confidence);
  };
}

/** Pivotal on the log scale: the resamples' spread about the estimate, turned round. A risk is never over 1. */
function widerOf(bounds: BoundedRisk, values: Float64Array, confidence: number): BoundedRisk {
  const { estimate, lower, upper } = bounds;
  const low = sortedQuantile(values, 1 - confidence);
  const high = sortedQuantile(values, confidence);
  if (low === null || high === null || !(estimate > 0 && low > 0)) return bounds;
  return {
    estimate,
    lower: lower === null ? null : Math.min(lower, estimate * (estimate / high)),
    upper: upper === null ? null : Math.max(upper, Math.min(1, estimate * (estimate / low))),
  };
}

function givenLine(
  fit: WeibullFit,
  table: LifeTable,
  confidence: number,
  options: LifeLineOptions,
): LifeLineOutcome {
  const shapes = options.shapes ?? DEFAULT_SHAPES;
  const { estimated, bounded } = overShapes(table, confidence, shapes);
  if (estimated(() => 0) === null) {
    return { kind: "none", fit, why: "no hours flown between looks to tell anything from" };
  }
  return {
    kind: "given-shape",
    fit,
    standsOn: `given-shape Weibull, shape ${shapes.from} to ${shapes.to}, from ${fit.lives} ${fit.lives === 1 ? "life" : "lives"} with ${fit.events} ${fit.events === 1 ? "event" : "events"}; the worst shape counts`,
    survival: null,
    bounded: (risk) => {
      const quantity = (parameters: WeibullParameters) => risk(survivalOf(parameters));
      const { lower, upper } = bounded(quantity);
      return { estimate: estimated(quantity) ?? 0, lower, upper };
    },
  };
}
