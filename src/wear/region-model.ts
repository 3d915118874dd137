/**
 * A quadratic picture of a risk about the optimum, from its values at the region's sampled edge: it says in which
 * directions to look for the largest and smallest value, where the likelihood and the risk itself then answer.
 */
import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { PARAMETERS } from "./decision-likelihood.ts";
import { normalised } from "./region-geometry.ts";
import type { Ray } from "./region-rays.ts";

const TERMS = PARAMETERS + (PARAMETERS * (PARAMETERS + 1)) / 2;

/** c + g·x + ½·x'Hx in standardised θ, its coefficients as linear combinations of the values at the rays' ends. */
export interface RegionModel {
  /** Coefficients (g, then H's upper triangle) from the values at the rays' ends less that at the optimum. */
  readonly coefficients: (rises: ArrayLike<number>) => Float64Array;
}

/** Prepared for one set of rays; every risk then costs one small product. */
export function regionModel(rays: readonly Ray[]): RegionModel {
  const design = new Matrix(rays.map((ray) => terms(ray.direction, ray.distance)));
  const gram = design.transpose().mmul(design);
  const size = gram.trace() / TERMS;
  const solver = new CholeskyDecomposition(gram.add(Matrix.eye(TERMS).mul(1e-9 * size)));
  const inverse = solver.solve(design.transpose()).to2DArray();
  return {
    coefficients: (rises) =>
      Float64Array.from(inverse, (row) => {
        let sum = 0;
        for (let k = 0; k < row.length; k++) sum += row[k]! * rises[k]!;
        return sum;
      }),
  };
}

function terms(direction: Float64Array, distance: number): number[] {
  const all: number[] = Array.from(direction, (v) => v * distance);
  for (let i = 0; i < PARAMETERS; i++) {
    for (let j = i; j < PARAMETERS; j++) {
      all.push((i === j ? 0.5 : 1) * direction[i]! * direction[j]! * distance * distance);
    }
  }
  return all;
}

/** The rise from the optimum along a direction: slope·distance + bend·distance². */
export function modelAlong(
  coefficients: Float64Array,
  direction: Float64Array,
): { readonly slope: number; readonly bend: number } {
  let slope = 0;
  let bend = 0;
  let k = PARAMETERS;
  for (let i = 0; i < PARAMETERS; i++) {
    slope += coefficients[i]! * direction[i]!;
    for (let j = i; j < PARAMETERS; j++, k++) {
      bend += (i === j ? 0.5 : 1) * coefficients[k]! * direction[i]! * direction[j]!;
    }
  }
  return { slope, bend };
}

/** The rise from the optimum at a distance along a direction. */
export function modelRise(coefficients: Float64Array, direction: Float64Array, distance: number): number {
  const { slope, bend } = modelAlong(coefficients, direction);
  return (slope + bend * distance) * distance;
}

/** The direction of the gradient there; null where there is none. */
export function modelGradient(
  coefficients: Float64Array,
  direction: Float64Array,
  distance: number,
): Float64Array | null {
  const gradient = Float64Array.from(coefficients.subarray(0, PARAMETERS));
  let k = PARAMETERS;
  for (let i = 0; i < PARAMETERS; i++) {
    for (let j = i; j < PARAMETERS; j++, k++) {
      gradient[i]! += coefficients[k]! * direction[j]! * distance;
      if (j > i) gradient[j]! += coefficients[k]! * direction[i]! * distance;
    }
  }
  return normalised(gradient);
}
