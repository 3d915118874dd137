/**
 * The profiled restricted likelihood of the joint model: any few columns of fixed effects, a random intercept and slope
 * by component, and a random slope by aircraft, from per-component cross products only (joint-products.ts).
 *
 * f = (N − p)·log(r'V⁻¹r) + log|V| + log|X'V⁻¹X|, r = y − Xβ. Its derivative in an entry of Δ is, over components,
 * Σ S − E(X'V⁻¹X)⁻¹E' − (N − p)/(r'V⁻¹r)·e·e' with S = Z'V⁻¹Z, E = Z'V⁻¹X, e = Z'V⁻¹r, and in γ² the same over aircraft
 * with h in the place of Z. Checked: tests/wear/joint-criterion.test.ts.
 */
import { choleskyFactor, invertFactored, solveFactored } from "../math/positive-definite.ts";
import type { JointData } from "./joint-data.ts";
import {
  emptyProducts,
  emptySums,
  fillProducts,
  type JointProducts,
  type JointSpread,
  sumProducts,
} from "./joint-products.ts";

export interface JointFit {
  /** −2·restricted log-likelihood, profiled, without constants. */
  readonly value: number;
  readonly fixed: Float64Array;
  readonly residualVariance: number;
  /** r'V⁻¹r. */
  readonly rss: number;
  /** (X'V⁻¹X)⁻¹, p × p row-major. */
  readonly inverse: Float64Array;
}

export interface JointCriterion {
  /** The fit at given spreads; null where the columns can't be told apart. */
  fitAt(spread: JointSpread): JointFit | null;
  /** Its value, Infinity where there is none; the gradient in the four spreads is put into the array. */
  evaluate(spread: JointSpread, gradient: Float64Array): number;
}

/** The criterion of some data; its calls share their memory. */
export function jointCriterion(data: JointData): JointCriterion {
  const products = emptyProducts(data);
  const fitAt = (spread: JointSpread) => {
    fillProducts(data, spread, products);
    return solved(data, products, spread);
  };
  return {
    fitAt,
    evaluate: (spread, gradient) => {
      const fit = fitAt(spread);
      if (fit === null) return Number.POSITIVE_INFINITY;
      fillGradient(data, products, spread, fit, gradient);
      return fit.value;
    },
  };
}

const LEAST_LEFT = 1e-10;

function solved(data: JointData, products: JointProducts, spread: JointSpread): JointFit | null {
  const p = data.columns;
  const sums = emptySums(p);
  const { xx, xy } = sums;
  sumProducts(data, products, spread[3], [sums], () => 0);
  const gamma = spread[3] * spread[3];
  let yy = 0;
  for (const one of products.yy) yy += one;
  for (let k = 0; k < data.aircraft; k++)
    yy -= (gamma * products.aircraftY[k]! ** 2) / (1 + gamma * products.aircraftH[k]!);
  // A spread beyond all measure on the search's way: no fit there.
  if (!xx.every(Number.isFinite) || !Number.isFinite(yy)) return null;
  const lower = choleskyFactor(xx, p);
  if (lower === null) return null;
  const diagonal = xy.map((_, k) => lower[k * p + k]!);
  // What is left of a column beside those before it: nothing, where it says what they say.
  if (diagonal.some((d, k) => d * d < LEAST_LEFT * xx[k * p + k]!)) return null;
  const fixed = solveFactored(lower, p, xy);
  const rss = yy - fixed.reduce((sum, b, k) => sum + b * xy[k]!, 0);
  if (!(rss > 0)) return null;
  const free = data.readings - p;
  const logInformation = 2 * diagonal.reduce((sum, d) => sum + Math.log(d), 0);
  return {
    value: free * Math.log(rss) + products.logDeterminant + logInformation,
    fixed,
    residualVariance: rss / free,
    rss,
    inverse: invertFactored(lower, p),
  };
}

/** By aircraft, what its slope takes from its components. */
interface AircraftPart {
  /** (X'V⁻¹X)⁻¹·X'Mh, a row of columns for each, and its product with X'Mh. */
  readonly q: Float64Array;
  readonly qx: Float64Array;
  /** h'M·r, and γ²/(1 + γ²·h'Mh). */
  readonly residual: Float64Array;
  readonly scale: Float64Array;
}

function fillGradient(
  data: JointData,
  products: JointProducts,
  [l, m, n, g]: JointSpread,
  fit: JointFit,
  gradient: Float64Array,
): void {
  const { inverse } = fit;
  const weight = (data.readings - data.columns) / fit.rss;
  const parts = aircraftParts(data, products, g * g, fit, inverse);
  let byGamma = 0;
  for (let k = 0; k < data.aircraft; k++) {
    const h = products.aircraftH[k]!;
    const share = 1 / (1 + g * g * h);
    byGamma += h * share - (parts.qx[k]! + weight * parts.residual[k]! ** 2) * share * share;
  }
  const [s00, s01, s11] = componentSlopes(data, products, fit, inverse, weight, parts);
  gradient[0] = 2 * (l * s00 + m * s01);
  gradient[1] = 2 * (l * s01 + m * s11);
  gradient[2] = 2 * n * s11;
  gradient[3] = 2 * g * byGamma;
}

function aircraftParts(
  { columns: p, aircraft }: JointData,
  { aircraftX, aircraftH, aircraftY }: JointProducts,
  gamma: number,
  { fixed }: JointFit,
  inverse: Float64Array,
): AircraftPart {
  const q = new Float64Array(aircraft * p);
  const qx = new Float64Array(aircraft);
  const residual = Float64Array.from(aircraftY);
  for (let k = 0; k < aircraft; k++) {
    for (let i = 0; i < p; i++) {
      const x = aircraftX[k * p + i]!;
      if (x === 0) continue;
      residual[k]! -= x * fixed[i]!;
      for (let j = 0; j < p; j++) q[k * p + j]! += inverse[i * p + j]! * x;
    }
    for (let j = 0; j < p; j++) qx[k]! += q[k * p + j]! * aircraftX[k * p + j]!;
  }
  return { q, qx, residual, scale: aircraftH.map((h) => gamma / (1 + gamma * h)) };
}

/** Derivatives of the criterion in Δ's entries 00, 01 and 11, the one off the diagonal counted once. */
function componentSlopes(
  { columns: p, components, aircraftOf, from, column }: JointData,
  products: JointProducts,
  { fixed }: JointFit,
  inverse: Float64Array,
  weight: number,
  parts: AircraftPart,
): [number, number, number] {
  const { zx0, zx1 } = products;
  let [s00, s01, s11] = [0, 0, 0];
  for (let i = 0; i < components; i++) {
    const aircraft = aircraftOf[i]!;
    const scale = parts.scale[aircraft]!;
    const k0 = products.zz01[i]!;
    const k1 = products.zz11[i]!;
    let e0 = products.zy0[i]! - scale * k0 * parts.residual[aircraft]!;
    let e1 = products.zy1[i]! - scale * k1 * parts.residual[aircraft]!;
    // Z'MX times (X'V⁻¹X)⁻¹ times itself, and times the aircraft's.
    let [t00, t01, t11, v0, v1] = [0, 0, 0, 0, 0];
    for (let a = from[i]!; a < from[i + 1]!; a++) {
      const own = column[a]!;
      const [x0, x1] = [zx0[a]!, zx1[a]!];
      e0 -= x0 * fixed[own]!;
      e1 -= x1 * fixed[own]!;
      v0 += x0 * parts.q[aircraft * p + own]!;
      v1 += x1 * parts.q[aircraft * p + own]!;
      for (let b = from[i]!; b < from[i + 1]!; b++) {
        const entry = inverse[own * p + column[b]!]!;
        t00 += x0 * entry * zx0[b]!;
        t01 += x0 * entry * zx1[b]!;
        t11 += x1 * entry * zx1[b]!;
      }
    }
    const more = scale + scale * scale * parts.qx[aircraft]!;
    s00 += products.zz00[i]! - t00 - more * k0 * k0 + 2 * scale * k0 * v0 - weight * e0 * e0;
    s01 += k0 - t01 - more * k0 * k1 + scale * (k0 * v1 + k1 * v0) - weight * e0 * e1;
    s11 += k1 - t11 - more * k1 * k1 + 2 * scale * k1 * v1 - weight * e1 * e1;
  }
  return [s00, s01, s11];
}
