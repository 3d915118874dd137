/**
 * The profiled restricted likelihood of a random intercept and slope, with its gradient, in one pass over components.
 *
 * With Δ = D/σ² and, per component, A = Z'Z and c = Z'y, everything needed follows from
 *   K = A(I + ΔA)⁻¹   and   t = (I + AΔ)⁻¹c:
 * G = ΣK is X'MX, Σt is X'My, and y'My = Σ(y'y − c'Δt). Derivatives with respect to Δ need only sums of products of
 * the entries of K and t, so they are gathered in the same pass.
 * Source: Pinheiro and Bates (2000), sections 2.2.2 and 2.2.3; derivatives by the usual rules for log-determinants.
 */
import type { ComponentSums } from "./component-sums.ts";

/** A symmetric 2 × 2 matrix: [00, 01, 11]. */
export type Symmetric = readonly [number, number, number];

/** Z'Z, Z'y and y'y of each component, in hours (h − centre)/scale and wear as residual from a common line. */
export interface CrossProducts {
  readonly components: number;
  readonly readings: number;
  readonly a00: Float64Array;
  readonly a01: Float64Array;
  readonly a11: Float64Array;
  readonly c0: Float64Array;
  readonly c1: Float64Array;
  readonly total: number;
  /** The common line taken out: y = w − line[0] − line[1]·(h − centre)/scale. */
  readonly line: readonly [number, number];
  readonly centreHours: number;
  readonly scaleHours: number;
}

/**
 * Cross products in centred hours about the pooled least-squares line: centring keeps intercept and slope apart when
 * all hours lie far from zero, and taking the line out saves the digits of y'My. Null where the hours do not differ.
 */
export function crossProducts(sums: ComponentSums): CrossProducts | null {
  const pooled = pooledLine(sums);
  if (pooled === null) return null;
  const { centreHours, scaleHours, line } = pooled;
  const m = sums.components;
  const a00 = Float64Array.from(sums.count);
  const a01 = new Float64Array(m);
  const a11 = new Float64Array(m);
  const c0 = new Float64Array(m);
  const c1 = new Float64Array(m);
  let total = 0;
  for (let i = 0; i < m; i++) {
    const n = sums.count[i]!;
    const mean = (sums.meanHours[i]! - centreHours) / scaleHours;
    const hh = sums.hoursSquared[i]! / scaleHours ** 2;
    const hw = sums.hoursWear[i]! / scaleHours;
    const meanResidual = sums.meanWearMm[i]! - line[0] - line[1] * mean;
    a01[i] = n * mean;
    a11[i] = hh + n * mean * mean;
    c0[i] = n * meanResidual;
    c1[i] = hw - line[1] * hh + n * mean * meanResidual;
    const squares = sums.wearSquared[i]! - 2 * line[1] * hw + line[1] ** 2 * hh;
    total += Math.max(0, squares) + n * meanResidual * meanResidual;
  }
  const { components, readings } = sums;
  return { components, readings, a00, a01, a11, c0, c1, total, line, centreHours, scaleHours };
}

/** The common line through all readings, its hours centred on their mean and scaled by their standard deviation. */
function pooledLine(sums: ComponentSums) {
  let hours = 0;
  let wear = 0;
  for (let i = 0; i < sums.components; i++) {
    hours += sums.count[i]! * sums.meanHours[i]!;
    wear += sums.count[i]! * sums.meanWearMm[i]!;
  }
  const centreHours = hours / sums.readings;
  const centreWear = wear / sums.readings;
  let hh = 0;
  let hw = 0;
  for (let i = 0; i < sums.components; i++) {
    const n = sums.count[i]!;
    const from = sums.meanHours[i]! - centreHours;
    hh += sums.hoursSquared[i]! + n * from * from;
    hw += sums.hoursWear[i]! + n * from * (sums.meanWearMm[i]! - centreWear);
  }
  const scaleHours = Math.sqrt(hh / sums.readings);
  if (!(scaleHours > 1e-9 * Math.abs(centreHours))) return null;
  return { centreHours, scaleHours, line: [centreWear, (hw / hh) * scaleHours] as const };
}

/** The criterion −2·log-likelihood without constants, its gradient in Δ, and what the fit needs at the optimum. */
export interface Criterion {
  readonly value: number;
  /** d value / d(Δ00, Δ01, Δ11), where Δ01 stands for both off-diagonal entries. */
  readonly gradient: readonly [number, number, number];
  readonly fixed: readonly [number, number];
  readonly information: Symmetric;
  readonly residual: number;
}

/** Evaluates the profiled criterion (N − 2)·log(y'My) + Σ log|I + AΔ| + log|X'MX| at Δ. */
export function criterionAt(data: CrossProducts, relative: Symmetric): Criterion {
  const [d0, d1, d2] = relative;
  let logDeterminant = 0;
  let g0 = 0;
  let g1 = 0;
  let g2 = 0;
  let s0 = 0;
  let s1 = 0;
  let residual = data.total;
  // Sums of products: K with K, t with K, t with t.
  let k00 = 0;
  let k01 = 0;
  let k02 = 0;
  let k11 = 0;
  let k12 = 0;
  let k22 = 0;
  let t0k0 = 0;
  let t0k1 = 0;
  let t0k2 = 0;
  let t1k0 = 0;
  let t1k1 = 0;
  let t1k2 = 0;
  let tt0 = 0;
  let tt1 = 0;
  let tt2 = 0;
  for (let i = 0; i < data.components; i++) {
    const a0 = data.a00[i]!;
    const a1 = data.a01[i]!;
    const a2 = data.a11[i]!;
    const c0 = data.c0[i]!;
    const c1 = data.c1[i]!;
    // B = I + AΔ
    const b00 = 1 + a0 * d0 + a1 * d1;
    const b01 = a0 * d1 + a1 * d2;
    const b10 = a1 * d0 + a2 * d1;
    const b11 = 1 + a1 * d1 + a2 * d2;
    const det = b00 * b11 - b01 * b10;
    logDeterminant += Math.log(det);
    const t0 = (b11 * c0 - b01 * c1) / det;
    const t1 = (b00 * c1 - b10 * c0) / det;
    // K = B⁻¹A is symmetric.
    const q0 = (b11 * a0 - b01 * a1) / det;
    const q1 = (b11 * a1 - b01 * a2) / det;
    const q2 = (b00 * a2 - b10 * a1) / det;
    g0 += q0;
    g1 += q1;
    g2 += q2;
    s0 += t0;
    s1 += t1;
    residual -= c0 * (d0 * t0 + d1 * t1) + c1 * (d1 * t0 + d2 * t1);
    k00 += q0 * q0;
    k01 += q0 * q1;
    k02 += q0 * q2;
    k11 += q1 * q1;
    k12 += q1 * q2;
    k22 += q2 * q2;
    t0k0 += t0 * q0;
    t0k1 += t0 * q1;
    t0k2 += t0 * q2;
    t1k0 += t1 * q0;
    t1k1 += t1 * q1;
    t1k2 += t1 * q2;
    tt0 += t0 * t0;
    tt1 += t0 * t1;
    tt2 += t1 * t1;
  }
  const det = g0 * g2 - g1 * g1;
  const f0 = (g2 * s0 - g1 * s1) / det;
  const f1 = (g0 * s1 - g1 * s0) / det;
  const left = residual - (f0 * s0 + f1 * s1);
  // Σ K G⁻¹ K, entry by entry.
  const i0 = g2 / det;
  const i1 = -g1 / det;
  const i2 = g0 / det;
  const kgk0 = i0 * k00 + 2 * i1 * k01 + i2 * k11;
  const kgk1 = i0 * k01 + i1 * (k02 + k11) + i2 * k12;
  const kgk2 = i0 * k11 + 2 * i1 * k12 + i2 * k22;
  // Σ (t − Kβ)(t − Kβ)', entry by entry.
  const r0 = tt0 - 2 * (f0 * t0k0 + f1 * t0k1) + f0 * f0 * k00 + 2 * f0 * f1 * k01 + f1 * f1 * k11;
  const r1 =
    tt1 -
    (f0 * t0k1 + f1 * t0k2) -
    (f0 * t1k0 + f1 * t1k1) +
    f0 * f0 * k01 +
    f0 * f1 * (k02 + k11) +
    f1 * f1 * k12;
  const r2 = tt2 - 2 * (f0 * t1k1 + f1 * t1k2) + f0 * f0 * k11 + 2 * f0 * f1 * k12 + f1 * f1 * k22;
  const weight = (data.readings - 2) / left;
  return {
    value: (data.readings - 2) * Math.log(left) + logDeterminant + Math.log(det),
    gradient: [g0 - kgk0 - weight * r0, 2 * (g1 - kgk1 - weight * r1), g2 - kgk2 - weight * r2],
    fixed: [f0, f1],
    information: [g0, g1, g2],
    residual: left,
  };
}
