/**
 * One-sided bounds of any risk g(θ): its largest and smallest value over the region where the likelihood of the
 * decision fit has not fallen too far, widened for aircraft that are alike.
 *
 * The region's boundary is sampled once: rays from the optimum, on each of which the true likelihood (not its
 * quadratic picture) says how far it goes. Every g is then looked at over these points, also when it is a step
 * function, and along the ray its own gradient points to.
 */
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { studentQuantile } from "../math/distributions.ts";
import { boundThreshold, plainThreshold } from "./bound-threshold.ts";
import type { RateFit } from "./decision-fit.ts";
import { PARAMETERS, parametersOf } from "./decision-likelihood.ts";
import { keepCurvesOf, type RateParameters } from "./rate-families.ts";
import {
  directions,
  type Geometry,
  geometryOf,
  locationRatio,
  normalised,
  varianceRatio,
} from "./region-geometry.ts";
import { regionModel } from "./region-model.ts";
import { castRay, type Ray, STRAIGHT, stretched, thetaAt } from "./region-rays.ts";
import { extremesOf, type SampledEdge, stretchedEdge } from "./region-search.ts";

/** A risk, or any other number, as a function of the rate distribution. */
export type RiskFunction = (parameters: RateParameters) => number;

export interface RiskBound {
  readonly estimate: number;
  /** One-sided bounds, each at the region's confidence. */
  readonly lower: number;
  readonly upper: number;
  /** By how much dependence within aircraft, known from few aircraft, widened the threshold; 1 where it didn't. */
  readonly clusterInflation: number;
}

export interface LikelihoodRegion {
  readonly fit: RateFit;
  readonly confidence: number;
  /** 2·(drop of the log-likelihood) allowed before the widening for aircraft. */
  readonly threshold: number;
  /** Both bounds of a risk, or only the one that is needed (the other is then the estimate): half the work. */
  bound(risk: RiskFunction, side?: RegionSide): RiskBound;
}

/** The upper bound, but where it is over a level: then any value of the region that is, and no more is looked for. */
export interface UpTo {
  readonly upTo: number;
}

export type RegionSide = "both" | "lower" | "upper" | UpTo;

/** Whether the likelihood says how far each ray goes, or the growth along the 95 % region's ray does, at next to no cost. */
export type RegionEdge = "traced" | "stretched";

/** The region of a fit for one-sided bounds at the given confidence. */
export function likelihoodRegion(
  fit: RateFit,
  confidence: number,
  edge: RegionEdge = "traced",
): LikelihoodRegion {
  const { geometry, root: baseRoot, rays: baseRays } = baseOf(fit);
  const threshold = boundThreshold(fit.components, confidence);
  const root = Math.sqrt(threshold);
  const rays =
    root === baseRoot
      ? baseRays
      : baseRays.map((ray) => {
          const distance = stretched(ray, baseRoot, root / baseRoot);
          if (edge === "stretched") return { ...ray, distance };
          return castRay(fit, geometry, ray.direction, root, ray, distance);
        });
  const sampled = sampledEdge(fit, geometry, rays, root);
  // A variance known from few aircraft: Student's t in place of the normal, as for a mean of that many values.
  const t = studentQuantile(confidence, Math.max(LEAST_AIRCRAFT, fit.aircraft) - 1);
  const widening = t ** 2 / plainThreshold(confidence);
  return {
    fit,
    confidence,
    threshold,
    bound: (risk, side = "both") => {
      const found = boundOf(sampled, widening, risk, side);
      const { estimate } = found;
      if (side === "both") return found;
      return side === "lower" ? { ...found, upper: estimate } : { ...found, lower: estimate };
    },
  };
}

/** The confidence whose region is traced from nothing; others begin from its rays, which takes a third of the work. */
const BASE_CONFIDENCE = 0.95;

interface Base {
  readonly geometry: Geometry;
  readonly root: number;
  readonly rays: readonly Ray[];
}

/** Of each fit, so that a region depends on its fit and confidence alone, and not on what was asked before. */
const bases = new WeakMap<RateFit, Base>();

function baseOf(fit: RateFit): Base {
  const known = bases.get(fit);
  if (known !== undefined) return known;
  const geometry = geometryOf(fit);
  const root = Math.sqrt(boundThreshold(fit.components, BASE_CONFIDENCE));
  const rays: Ray[] = [];
  for (const direction of directions(geometry)) {
    // Directions come in opposite pairs: what bends one way bends the other way on the other side.
    const opposite = rays.length % 2 === 1 ? rays.at(-1)! : STRAIGHT;
    const growth = { bend: -opposite.bend, twist: opposite.twist };
    rays.push(castRay(fit, geometry, direction, root, growth));
  }
  const base = { geometry, root, rays };
  bases.set(fit, base);
  return base;
}

/** Shorthand where only one bound is wanted. */
export const boundOverRegion = (fit: RateFit, risk: RiskFunction, oneSidedConfidence: number): RiskBound =>
  likelihoodRegion(fit, oneSidedConfidence).bound(risk);

/** Fewer aircraft can't tell how alike their components are; evidence rules stop such a group elsewhere. */
const LEAST_AIRCRAFT = 3;

function sampledEdge(fit: RateFit, geometry: Geometry, rays: readonly Ray[], root: number): SampledEdge {
  const ends = rays.map(({ direction, distance }) =>
    keepCurvesOf(parametersOf(fit.family, thetaAt(fit, geometry, direction, distance))),
  );
  const middle = keepCurvesOf(fit.parameters);
  // About the rate (or its logarithm) that one in a hundred is over.
  const fastRates = ends.map(({ location, spread }) => location + 2.33 * spread);
  const fastestFirst = Array.from(rays.keys()).sort((a, b) => fastRates[b]! - fastRates[a]! || a - b);
  return {
    ...{ fit, geometry, rays, root, middle, ends, fastestFirst },
    model: onFirstUse(() => regionModel(rays)),
    stretchedBy: keepingLast(
      (factor) => stretchedEdge(rays, root, factor),
      ({ factor }) => factor,
    ),
    slopeOf: slopeSolver(rays),
  };
}

function boundOf(edge: SampledEdge, widening: number, risk: RiskFunction, wanted: RegionSide): RiskBound {
  const { geometry, rays, middle, ends } = edge;
  const upTo = typeof wanted === "object" ? wanted.upTo : Number.POSITIVE_INFINITY;
  const estimate = risk(middle);
  const values = new Array<number>(rays.length);
  // The fastest are mostly the worst, and where one value is enough, it is found soonest.
  for (const k of edge.fastestFirst) {
    values[k] = risk(ends[k]!);
    if (values[k]! > upTo) return { estimate, lower: estimate, upper: values[k]!, clusterInflation: 1 };
  }
  const slope = slopeOver(edge, values);
  const ratio = slope === null ? 1 : Math.max(varianceRatio(geometry, slope), locationRatio(geometry));
  const inflation = Math.max(1, ratio * widening);
  if (slope === null) {
    const all = [estimate, ...values];
    return { estimate, lower: Math.min(...all), upper: Math.max(...all), clusterInflation: inflation };
  }
  const sides =
    wanted === "both" ? ([1, -1] as const) : wanted === "lower" ? ([-1] as const) : ([1] as const);
  const search = { risk, estimate, values, factor: Math.sqrt(inflation), slope, upTo };
  return { estimate, ...extremesOf(edge, search, sides), clusterInflation: inflation };
}

function onFirstUse<T>(make: () => T): () => T {
  let made: T | null = null;
  return () => {
    made ??= make();
    return made;
  };
}

/** What was made last is made once. */
function keepingLast<T>(make: (of: number) => T, ofWhat: (made: T) => number): (of: number) => T {
  let last: T | null = null;
  return (of) => {
    if (last === null || ofWhat(last) !== of) last = make(of);
    return last;
  };
}

/** The gradient of g over the region in standardised θ, by least squares over the rays; null for a constant. */
function slopeOver({ rays, slopeOf }: SampledEdge, values: readonly number[]): Float64Array | null {
  const slope = new Float64Array(PARAMETERS);
  // Rays come in opposite pairs, so that even parts of g cancel.
  for (let k = 0; k + 1 < rays.length; k += 2) {
    const rise = values[k]! - values[k + 1]!;
    const run = rays[k]!.distance + rays[k + 1]!.distance;
    if (!Number.isFinite(rise) || !(run > 0)) continue;
    for (let j = 0; j < PARAMETERS; j++) slope[j]! += (rise / run) * rays[k]!.direction[j]!;
  }
  return normalised(slopeOf(slope));
}

/** Solves the normal equations of the rays' directions, which no risk changes. */
function slopeSolver(rays: readonly Ray[]): (right: Float64Array) => Float64Array {
  const gram = Matrix.eye(PARAMETERS).mul(1e-9);
  for (let k = 0; k + 1 < rays.length; k += 2) {
    const d = rays[k]!.direction;
    for (let i = 0; i < PARAMETERS; i++) {
      for (let j = 0; j < PARAMETERS; j++) gram.set(i, j, gram.get(i, j) + d[i]! * d[j]!);
    }
  }
  const inverse = new CholeskyDecomposition(gram).solve(Matrix.eye(PARAMETERS)).to2DArray();
  return (right) =>
    Float64Array.from(inverse, (row) => row.reduce((sum, value, j) => sum + value * right[j]!, 0));
}
