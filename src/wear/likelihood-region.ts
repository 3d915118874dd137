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
import { seededRandom } from "../math/random.ts";
import { boundThreshold, plainThreshold } from "./bound-threshold.ts";
import type { RateFit } from "./decision-fit.ts";
import { PARAMETERS, parametersOf } from "./decision-likelihood.ts";
import type { RateParameters } from "./rate-families.ts";

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
  bound(risk: RiskFunction, side?: "both" | "lower" | "upper"): RiskBound;
}

/** Random directions besides those in which location and spread trade places. */
const RANDOM_PAIRS = 20;
const PLANE_PAIRS = 12;
/** A fixed stream: the same fit gives the same bounds. */
const SEED = 20130906;

/** A direction from the optimum, and how far along it the log-likelihood has dropped to the threshold. */
interface Ray {
  readonly direction: Float64Array;
  /** Distance in standard deviations at which √(2·drop) reaches √threshold, and how that grows with the distance. */
  readonly distance: number;
  readonly bend: number;
}

/** The region of a fit for one-sided bounds at the given confidence. */
export function likelihoodRegion(fit: RateFit, confidence: number): LikelihoodRegion {
  const threshold = boundThreshold(fit.components, confidence);
  const geometry = geometryOf(fit);
  const root = Math.sqrt(threshold);
  const rays = directions(geometry).map((direction) => castRay(fit, geometry, direction, root));
  // A variance known from few aircraft: Student's t in place of the normal, as for a mean of that many values.
  const t = studentQuantile(confidence, Math.max(LEAST_AIRCRAFT, fit.aircraft) - 1);
  const widening = t ** 2 / plainThreshold(confidence);
  return {
    fit,
    confidence,
    threshold,
    bound: (risk, side = "both") => {
      const found = boundOf(fit, geometry, rays, root, widening, risk, side);
      const { estimate } = found;
      if (side === "upper") return { ...found, lower: estimate };
      return side === "lower" ? { ...found, upper: estimate } : found;
    },
  };
}

/** Shorthand where only one bound is wanted. */
export const boundOverRegion = (fit: RateFit, risk: RiskFunction, oneSidedConfidence: number): RiskBound =>
  likelihoodRegion(fit, oneSidedConfidence).bound(risk);

/** Fewer aircraft can't tell how alike their components are; evidence rules stop such a group elsewhere. */
const LEAST_AIRCRAFT = 3;

interface Geometry {
  /** Lower triangular A with A·A' = covariance. */
  readonly factor: Matrix;
  /** A⁻¹·clusterCovariance·A⁻ᵀ: what aircraft do to the variance of each direction. */
  readonly inflation: Matrix;
}

function geometryOf(fit: RateFit): Geometry {
  const square = (values: Float64Array) =>
    new Matrix(
      Array.from({ length: PARAMETERS }, (_, i) =>
        Array.from(values.subarray(i * PARAMETERS, (i + 1) * PARAMETERS)),
      ),
    );
  const factor = new CholeskyDecomposition(square(fit.covariance)).lowerTriangularMatrix;
  const half = solveLower(factor, square(fit.clusterCovariance));
  return { factor, inflation: solveLower(factor, half.transpose()) };
}

/** X with L·X = B, L lower triangular. */
function solveLower(lower: Matrix, right: Matrix): Matrix {
  const x = right.clone();
  for (let column = 0; column < x.columns; column++) {
    for (let i = 0; i < x.rows; i++) {
      let sum = x.get(i, column);
      for (let k = 0; k < i; k++) sum -= lower.get(i, k) * x.get(k, column);
      x.set(i, column, sum / lower.get(i, i));
    }
  }
  return x;
}

/** Pairs of opposite directions in standardised θ: gradients in the plane of location and spread, and random ones. */
function directions(geometry: Geometry): Float64Array[] {
  const all: Float64Array[] = [];
  const add = (direction: Float64Array) =>
    all.push(
      direction,
      Float64Array.from(direction, (v) => -v),
    );
  for (let k = 0; k < PLANE_PAIRS; k++) {
    const angle = (Math.PI * k) / PLANE_PAIRS;
    // Angles in units of the two standard deviations, so that they cover what matters evenly.
    const gradient = new Float64Array(PARAMETERS);
    gradient[3] = Math.cos(angle) / sdOf(geometry, 3);
    gradient[4] = Math.sin(angle) / sdOf(geometry, 4);
    const direction = normalised(standardGradient(geometry, gradient));
    if (direction !== null) add(direction);
  }
  const random = seededRandom(SEED);
  for (let k = 0; k < RANDOM_PAIRS; k++) {
    const direction = normalised(Float64Array.from({ length: PARAMETERS }, () => random.normal()));
    if (direction !== null) add(direction);
  }
  return all;
}

function sdOf(geometry: Geometry, k: number): number {
  let sum = 0;
  for (let j = 0; j <= k; j++) sum += geometry.factor.get(k, j) ** 2;
  return Math.sqrt(sum);
}

/** A'·gradient: a gradient in θ as a direction in standardised θ. */
function standardGradient({ factor }: Geometry, gradient: Float64Array): Float64Array {
  return Float64Array.from({ length: PARAMETERS }, (_, j) => {
    let sum = 0;
    for (let i = j; i < PARAMETERS; i++) sum += factor.get(i, j) * gradient[i]!;
    return sum;
  });
}

function normalised(vector: Float64Array): Float64Array | null {
  const length = Math.hypot(...vector);
  return length > 0 && Number.isFinite(length) ? vector.map((v) => v / length) : null;
}

function thetaAt(
  fit: RateFit,
  { factor }: Geometry,
  direction: Float64Array,
  distance: number,
): Float64Array {
  return fit.theta.map((value, i) => {
    let moved = value;
    for (let j = 0; j <= i; j++) moved += factor.get(i, j) * direction[j]! * distance;
    return moved;
  });
}

/** Follows a direction until √(2·drop) is `root`, to 3 % and then in proportion; steps are proportional, with a bend kept from the last two. */
function castRay(fit: RateFit, geometry: Geometry, direction: Float64Array, root: number, start = root): Ray {
  const dropAt = (distance: number) => {
    const value = fit.likelihood.value(thetaAt(fit, geometry, direction, distance));
    return Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - value)));
  };
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let distance = start;
  let bend = 0;
  let last: { distance: number; drop: number } | null = null;
  for (let step = 0; step < 12; step++) {
    const drop = dropAt(distance);
    // drop/distance = slope + bend·distance, from this point and the one before.
    if (last !== null && last.distance !== distance && Number.isFinite(drop) && Number.isFinite(last.drop)) {
      bend = (drop / distance - last.drop / last.distance) / (distance - last.distance);
    }
    if (Math.abs(drop - root) < 0.03 * root) return { direction, distance: (distance * root) / drop, bend };
    if (drop < root) low = distance;
    else high = distance;
    last = { distance, drop };
    const next = Number.isFinite(drop) && drop > 0.05 * root ? (distance * root) / drop : Number.NaN;
    const usable = next > low && next < high && next < 4 * distance;
    distance = usable ? next : Number.isFinite(high) ? (low + high) / 2 : 2 * distance;
  }
  // Flat this far out: the likelihood does not close the region here, and the last inside point stands for it.
  return { direction, distance: Number.isFinite(high) ? high : low, bend: 0 };
}

/** Where √(2·drop) has grown by `factor` beyond the threshold: slope·x + bend·x² = factor·root. */
function stretched(ray: Ray, root: number, factor: number): number {
  if (factor === 1) return ray.distance;
  const slope = root / ray.distance - ray.bend * ray.distance;
  const target = factor * root;
  const discriminant = slope * slope + 4 * ray.bend * target;
  // A bend that would never get there is taken as none.
  if (!(slope > 0) || Math.abs(ray.bend) < 1e-9 || discriminant < 0) return ray.distance * factor;
  const distance = (2 * target) / (slope + Math.sqrt(discriminant));
  return Math.min(Math.max(distance, ray.distance * Math.sqrt(factor)), ray.distance * factor * factor);
}

function boundOf(
  fit: RateFit,
  geometry: Geometry,
  rays: readonly Ray[],
  root: number,
  widening: number,
  risk: RiskFunction,
  wanted: "both" | "lower" | "upper",
): RiskBound {
  const at = (direction: Float64Array, distance: number) =>
    risk(parametersOf(fit.family, thetaAt(fit, geometry, direction, distance)));
  const estimate = risk(fit.parameters);
  const values = rays.map((ray) => at(ray.direction, ray.distance));
  const slope = slopeOver(rays, values);
  const ratio = slope === null ? 1 : Math.max(varianceRatio(geometry, slope), locationRatio(geometry));
  const inflation = Math.max(1, ratio * widening);
  const factor = Math.sqrt(inflation);
  let lower = estimate;
  let upper = estimate;
  const look = (value: number) => {
    if (value < lower) lower = value;
    if (value > upper) upper = value;
  };
  const outer = factor === 1 ? values : rays.map((ray) => at(ray.direction, stretched(ray, root, factor)));
  outer.forEach(look);
  for (const side of [1, -1]) {
    if (slope === null || wanted === (side === 1 ? "lower" : "upper")) continue;
    climb(fit, geometry, rays, root, factor, side, slope, at).forEach(look);
  }
  return { estimate, lower, upper, clusterInflation: inflation };
}

/** The gradient of g over the region in standardised θ, by least squares over the rays; null for a constant. */
function slopeOver(rays: readonly Ray[], values: readonly number[]): Float64Array | null {
  const slope = new Float64Array(PARAMETERS);
  // Rays come in opposite pairs, so that even parts of g cancel.
  for (let k = 0; k + 1 < rays.length; k += 2) {
    const rise = values[k]! - values[k + 1]!;
    const run = rays[k]!.distance + rays[k + 1]!.distance;
    if (!Number.isFinite(rise) || !(run > 0)) continue;
    for (let j = 0; j < PARAMETERS; j++) slope[j]! += (rise / run) * rays[k]!.direction[j]!;
  }
  return normalised(solveNormal(rays, slope));
}

function solveNormal(rays: readonly Ray[], right: Float64Array): Float64Array {
  const gram = Matrix.eye(PARAMETERS).mul(1e-9);
  for (let k = 0; k + 1 < rays.length; k += 2) {
    const d = rays[k]!.direction;
    for (let i = 0; i < PARAMETERS; i++) {
      for (let j = 0; j < PARAMETERS; j++) gram.set(i, j, gram.get(i, j) + d[i]! * d[j]!);
    }
  }
  const cholesky = new CholeskyDecomposition(gram);
  return Float64Array.from(cholesky.solve(Matrix.columnVector(Array.from(right))).to1DArray());
}

/** Two rays towards where g is largest (side 1) or smallest (−1): along its mean gradient, then its gradient there. */
function climb(
  fit: RateFit,
  geometry: Geometry,
  rays: readonly Ray[],
  root: number,
  factor: number,
  side: number,
  slope: Float64Array,
  at: (direction: Float64Array, distance: number) => number,
): number[] {
  const values: number[] = [];
  let direction: Float64Array = slope.map((v) => side * v);
  for (let step = 0; step < 2; step++) {
    const start = stretched(nearest(rays, direction), root, factor);
    const ray = castRay(fit, geometry, direction, root * factor, start);
    const here = at(direction, ray.distance);
    values.push(here);
    if (step === 1) break;
    const local = new Float64Array(PARAMETERS);
    const shift = 0.2;
    for (let j = 0; j < PARAMETERS; j++) {
      const moved = direction.map((v, k) => v * ray.distance + (k === j ? shift : 0));
      local[j] = (side * (at(moved, 1) - here)) / shift;
    }
    const next = normalised(local);
    if (next === null) break;
    direction = next;
  }
  return values;
}

/** The sampled ray that points most nearly in a direction: it says about how far the region goes there. */
function nearest(rays: readonly Ray[], direction: Float64Array): Ray {
  const along = (ray: Ray) => ray.direction.reduce((sum, v, k) => sum + v * direction[k]!, 0);
  return rays.reduce((best, ray) => (along(ray) > along(best) ? ray : best));
}

/** Variance of g with aircraft as clusters over that without. */
function varianceRatio({ inflation }: Geometry, slope: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < PARAMETERS; i++) {
    for (let j = 0; j < PARAMETERS; j++) sum += slope[i]! * inflation.get(i, j) * slope[j]!;
  }
  return sum;
}

/**
 * The same for the location of the rates. A tail depends on location and spread, and the spread's ratio is low just
 * where the tail was underestimated, so the location's serves as its floor.
 */
function locationRatio(geometry: Geometry): number {
  const gradient = new Float64Array(PARAMETERS);
  gradient[3] = 1;
  const direction = normalised(standardGradient(geometry, gradient));
  return direction === null ? 1 : varianceRatio(geometry, direction);
}
