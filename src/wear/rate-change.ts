/**
 * Whether components wear at another rate after something than before it (running in, a date, another standard), within
 * components only: each has its own intercept and rate, so that which components were met when does not matter.
 */
import { studentQuantile } from "../math/distributions.ts";
import type { WearTable } from "../records/wear-table.ts";

export type RateChange =
  | {
      readonly kind: "fitted";
      /** Components read on both sides, with a reading to spare; their aircraft. */
      readonly components: number;
      readonly aircraft: number;
      /** Rate after less rate before, mm per 1000 h, two-sided bounds. */
      readonly changeMmPer1000Hours: number;
      readonly lower: number;
      readonly upper: number;
    }
  | { readonly kind: "too-few"; readonly components: number; readonly aircraft: number };

const FEWEST_COMPONENTS = 5;
const FEWEST_AIRCRAFT = 3;

/**
 * w = aᵢ + bᵢ·h + δ·(hours after) + e: both sides are freed of each component's own line, δ is their least-squares slope,
 * and its error takes aircraft as the sample (G/(G − 1), Student's t with G − 1).
 *
 * @param hoursAfter  of each reading, how many of its component's hours were flown after the change
 * @param aircraft    of each component; -1 stands alone
 * Source: Frisch and Waugh (1933), Econometrica 1, 387-401; Liang and Zeger (1986), Biometrika 73, 13-22, for clusters.
 */
export function rateChange(
  table: WearTable,
  hoursAfter: Float64Array,
  aircraft: Int32Array,
  confidence = 0.95,
): RateChange {
  const { xx, xw } = perComponent(table, hoursAfter);
  const sums = new Map<number, { xx: number; xw: number }>();
  let components = 0;
  for (let i = 0; i < table.components; i++) {
    if (!(xx[i]! > 0)) continue;
    components++;
    const cluster = aircraft[i]! < 0 ? -1 - i : aircraft[i]!;
    const sum = sums.get(cluster) ?? { xx: 0, xw: 0 };
    sum.xx += xx[i]!;
    sum.xw += xw[i]!;
    sums.set(cluster, sum);
  }
  const n = sums.size;
  if (components < FEWEST_COMPONENTS || n < FEWEST_AIRCRAFT)
    return { kind: "too-few", components, aircraft: n };
  const all = [...sums.values()];
  const information = all.reduce((sum, one) => sum + one.xx, 0);
  const change = all.reduce((sum, one) => sum + one.xw, 0) / information;
  const scores = all.reduce((sum, one) => sum + (one.xw - change * one.xx) ** 2, 0);
  const standardError = Math.sqrt((n / (n - 1)) * scores) / information;
  const reach = studentQuantile(0.5 + confidence / 2, n - 1) * standardError;
  return {
    kind: "fitted",
    components,
    aircraft: n,
    changeMmPer1000Hours: change,
    lower: change - reach,
    upper: change + reach,
  };
}

/** Per component Σ x² and Σ x·w of hours after (in thousands) freed of the line on hours; 0 where nothing is left. */
function perComponent(table: WearTable, hoursAfter: Float64Array) {
  const size = table.components;
  const n = new Float64Array(size);
  const means = [new Float64Array(size), new Float64Array(size), new Float64Array(size)] as const;
  const [meanH, meanX, meanW] = means;
  for (let row = 0; row < table.rows; row++) {
    const i = table.component[row]!;
    n[i]!++;
    meanH[i]! += (table.hours[row]! / 1000 - meanH[i]!) / n[i]!;
    meanX[i]! += (hoursAfter[row]! / 1000 - meanX[i]!) / n[i]!;
    meanW[i]! += (table.wearMm[row]! - meanW[i]!) / n[i]!;
  }
  const [hh, hx, hw, xxRaw, xwRaw] = Array.from({ length: 5 }, () => new Float64Array(size)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let row = 0; row < table.rows; row++) {
    const i = table.component[row]!;
    const h = table.hours[row]! / 1000 - meanH[i]!;
    const x = hoursAfter[row]! / 1000 - meanX[i]!;
    const w = table.wearMm[row]! - meanW[i]!;
    hh[i]! += h * h;
    hx[i]! += h * x;
    hw[i]! += h * w;
    xxRaw[i]! += x * x;
    xwRaw[i]! += x * w;
  }
  const xx = new Float64Array(size);
  const xw = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    if (n[i]! < 3 || !(hh[i]! > 0)) continue;
    const left = xxRaw[i]! - hx[i]! ** 2 / hh[i]!;
    // All before or all after: what is left is rounding.
    if (!(left > 1e-9 * xxRaw[i]!)) continue;
    xx[i] = left;
    xw[i] = xwRaw[i]! - (hx[i]! * hw[i]!) / hh[i]!;
  }
  return { xx, xw };
}
