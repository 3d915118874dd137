/**
 * The joint model's cross products at given spreads. Within a component M = I − Z·W·Z' with W = Δ·B⁻¹, B = I + AΔ, A = Z'Z;
 * an aircraft adds a slope of its own, ratio γ² to the scatter, over all its components, which is one more rank:
 * V⁻¹ = M − M·h·h'·M·γ²/(1 + γ²·h'Mh), h being Z's second column.
 */
import type { JointData } from "./joint-data.ts";

/** Relative spreads: triangular L of the component's intercept and slope (Δ = L·L'), and the aircraft's slope. */
export type JointSpread = readonly [number, number, number, number];

/** At one spread, by component or by its columns as in the data; by aircraft, and a row of columns for each. */
export interface JointProducts {
  /** X'MX and X'My. */
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: Float64Array;
  /** Both rows of Z'MX, the entries of Z'MZ, and Z'My. */
  readonly zx0: Float64Array;
  readonly zx1: Float64Array;
  readonly zz00: Float64Array;
  readonly zz01: Float64Array;
  readonly zz11: Float64Array;
  readonly zy0: Float64Array;
  readonly zy1: Float64Array;
  /** Over an aircraft: h'MX, h'Mh, h'My. */
  readonly aircraftX: Float64Array;
  readonly aircraftH: Float64Array;
  readonly aircraftY: Float64Array;
  /** log|V|/σ². */
  logDeterminant: number;
}

/** Room for the products of some data, to be filled again and again. */
export function emptyProducts({ components, aircraft, columns, column, xx }: JointData): JointProducts {
  const byComponent = () => new Float64Array(components);
  const byColumn = () => new Float64Array(column.length);
  return {
    xx: new Float64Array(xx.length),
    xy: byColumn(),
    yy: byComponent(),
    zx0: byColumn(),
    zx1: byColumn(),
    zz00: byComponent(),
    zz01: byComponent(),
    zz11: byComponent(),
    zy0: byComponent(),
    zy1: byComponent(),
    aircraftX: new Float64Array(aircraft * columns),
    aircraftH: new Float64Array(aircraft),
    aircraftY: new Float64Array(aircraft),
    logDeterminant: 0,
  };
}

/** Fills the products at a spread. */
export function fillProducts(data: JointData, [l, m, n, g]: JointSpread, out: JointProducts): void {
  const { columns, components, aircraftOf, from, square, column } = data;
  const [d0, d1, d2] = [l * l, l * m, m * m + n * n];
  let logDeterminant = 0;
  out.aircraftX.fill(0);
  out.aircraftH.fill(0);
  out.aircraftY.fill(0);
  for (let i = 0; i < components; i++) {
    const [a0, a1, a2] = [data.count[i]!, data.h[i]!, data.hh[i]!];
    const b00 = 1 + a0 * d0 + a1 * d1;
    const b01 = a0 * d1 + a1 * d2;
    const b10 = a1 * d0 + a2 * d1;
    const b11 = 1 + a1 * d1 + a2 * d2;
    const det = b00 * b11 - b01 * b10;
    logDeterminant += Math.log(det);
    // B⁻¹, which takes Z'Z, Z'X and Z'y to Z'MZ, Z'MX and Z'My; then W, symmetric.
    const [i00, i01, i10, i11] = [b11 / det, -b01 / det, -b10 / det, b00 / det];
    const w00 = d0 * i00 + d1 * i10;
    const w01 = d0 * i01 + d1 * i11;
    const w11 = d1 * i01 + d2 * i11;
    const [c0, c1] = [data.y[i]!, data.hy[i]!];
    out.yy[i] = data.yy[i]! - (w00 * c0 * c0 + 2 * w01 * c0 * c1 + w11 * c1 * c1);
    out.zz00[i] = i00 * a0 + i01 * a1;
    out.zz01[i] = i00 * a1 + i01 * a2;
    out.zz11[i] = i10 * a1 + i11 * a2;
    out.zy0[i] = i00 * c0 + i01 * c1;
    out.zy1[i] = i10 * c0 + i11 * c1;
    const aircraft = aircraftOf[i]!;
    out.aircraftH[aircraft]! += out.zz11[i]!;
    out.aircraftY[aircraft]! += out.zy1[i]!;
    const first = from[i]!;
    const size = from[i + 1]! - first;
    for (let a = 0; a < size; a++) {
      const at = first + a;
      const [z0, z1] = [data.x[at]!, data.xh[at]!];
      out.zx0[at] = i00 * z0 + i01 * z1;
      out.zx1[at] = i10 * z0 + i11 * z1;
      out.aircraftX[aircraft * columns + column[at]!]! += out.zx1[at]!;
      const wz0 = w00 * z0 + w01 * z1;
      const wz1 = w01 * z0 + w11 * z1;
      out.xy[at] = data.xy[at]! - (wz0 * c0 + wz1 * c1);
      for (let b = 0; b < size; b++) {
        const k = square[i]! + a * size + b;
        out.xx[k] = data.xx[k]! - (wz0 * data.x[first + b]! + wz1 * data.xh[first + b]!);
      }
    }
  }
  for (let k = 0; k < data.aircraft; k++) logDeterminant += Math.log1p(g * g * out.aircraftH[k]!);
  out.logDeterminant = logDeterminant;
}

/** X'V⁻¹X and X'V⁻¹y. */
export interface NormalSums {
  readonly xx: Float64Array;
  readonly xy: Float64Array;
}

/** Sums of p columns, all zero. */
export const emptySums = (p: number): NormalSums => ({
  xx: new Float64Array(p * p),
  xy: new Float64Array(p),
});

/** Sums over all components, or over those of each aircraft: `numberOf` says which of the sums is an aircraft's. */
export function sumProducts(
  data: JointData,
  products: JointProducts,
  aircraftSpread: number,
  sums: readonly NormalSums[],
  numberOf: (aircraft: number) => number,
): void {
  const { columns: p, components, from, square, column, aircraftOf } = data;
  for (let i = 0; i < components; i++) {
    const { xx, xy } = sums[numberOf(aircraftOf[i]!)]!;
    const first = from[i]!;
    const size = from[i + 1]! - first;
    for (let a = 0; a < size; a++) {
      const row = column[first + a]!;
      xy[row]! += products.xy[first + a]!;
      for (let b = 0; b < size; b++)
        xx[row * p + column[first + b]!]! += products.xx[square[i]! + a * size + b]!;
    }
  }
  const gamma = aircraftSpread * aircraftSpread;
  for (let k = 0; k < data.aircraft; k++) {
    const { xx, xy } = sums[numberOf(k)]!;
    const scale = gamma / (1 + gamma * products.aircraftH[k]!);
    for (let i = 0; i < p; i++) {
      const own = scale * products.aircraftX[k * p + i]!;
      if (own === 0) continue;
      xy[i]! -= own * products.aircraftY[k]!;
      for (let j = 0; j < p; j++) xx[i * p + j]! -= own * products.aircraftX[k * p + j]!;
    }
  }
}
