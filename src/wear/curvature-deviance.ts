/**
 * The likelihood that curvature.ts searches: of a + u + b·hours^c with a rate b for each component and an offset u of
 * spread ratio · σ, the rates and a profiled out. It is asked thousands of times, so readings are kept as logarithms of
 * their hours, and what does not depend on the exponent or the ratio is summed once.
 */
import type { WearTable } from "../records/wear-table.ts";

/** Components read at least twice, at different hours: their readings one component after the other. */
export interface RepeatedReadings {
  readonly components: number;
  readonly readings: number;
  /** First reading of each component, and one past the last of all. */
  readonly from: Int32Array;
  /** log(hours/1000); −∞ at none. */
  readonly logHours: Float64Array;
  /** Wear less its component's mean. */
  readonly wearMm: Float64Array;
  readonly meanWearMm: Float64Array;
  readonly wearSquared: Float64Array;
}

/** The readings that can show a bend. */
export function repeatedReadings(table: WearTable): RepeatedReadings {
  const rowsOf: number[][] = Array.from({ length: table.components }, () => []);
  for (let row = 0; row < table.rows; row++) rowsOf[table.component[row]!]!.push(row);
  const kept = rowsOf.filter((rows) => rows.some((row) => table.hours[row] !== table.hours[rows[0]!]));
  const rows = kept.flat();
  const from = new Int32Array(kept.length + 1);
  for (const [i, own] of kept.entries()) from[i + 1] = from[i]! + own.length;
  const meanWearMm = Float64Array.from(
    kept,
    (own) => own.reduce((sum, row) => sum + table.wearMm[row]!, 0) / own.length,
  );
  const wearMm = Float64Array.from(
    kept.flatMap((own, i) => own.map((row) => table.wearMm[row]! - meanWearMm[i]!)),
  );
  return {
    components: kept.length,
    readings: rows.length,
    from,
    logHours: Float64Array.from(rows, (row) => Math.log(table.hours[row]! / 1000)),
    wearMm,
    meanWearMm,
    wearSquared: Float64Array.from(kept, (_, i) =>
      wearMm.subarray(from[i]!, from[i + 1]!).reduce((sum, wear) => sum + wear * wear, 0),
    ),
  };
}

/** Sums by component on the clock of one exponent, t = (hours/1000)^c, centred at the component's means. */
export interface SumsOnClock {
  readonly components: number;
  readonly readings: number;
  readonly n: Float64Array;
  /** Σ(t − t̄)², n·t̄², and n times the inverse of both together. */
  readonly tt: Float64Array;
  readonly meanSquare: Float64Array;
  readonly perSquare: Float64Array;
  /** w̄·tt − t̄·tw, tw², and w̄·(w̄·tt − 2·t̄·tw). */
  readonly beta: Float64Array;
  readonly product: Float64Array;
  readonly gamma: Float64Array;
  /** Σ over all readings of (w − w̄)². */
  readonly wearSquared: number;
}

/** One pass over the readings. */
export function sumsOnClock(readings: RepeatedReadings, exponent: number): SumsOnClock {
  const { components, from, logHours, wearMm, meanWearMm } = readings;
  const column = () => new Float64Array(components);
  const [n, tt, meanSquare, perSquare] = [column(), column(), column(), column()];
  const [beta, product, gamma] = [column(), column(), column()];
  const t = logHours.map((log) => Math.exp(exponent * log));
  for (let i = 0; i < components; i++) {
    const end = from[i + 1]!;
    const count = end - from[i]!;
    let mean = 0;
    for (let k = from[i]!; k < end; k++) mean += t[k]!;
    mean /= count;
    let square = 0;
    let tw = 0;
    for (let k = from[i]!; k < end; k++) {
      const off = t[k]! - mean;
      square += off * off;
      tw += off * wearMm[k]!;
    }
    const w = meanWearMm[i]!;
    n[i] = count;
    tt[i] = square;
    meanSquare[i] = count * mean * mean;
    perSquare[i] = 1 / (square + count * mean * mean);
    beta[i] = w * square - mean * tw;
    product[i] = tw * tw;
    gamma[i] = w * (w * square - 2 * mean * tw);
  }
  const wearSquared = readings.wearSquared.reduce((sum, squares) => sum + squares, 0);
  const { readings: rows } = readings;
  return { components, readings: rows, n, tt, meanSquare, perSquare, beta, product, gamma, wearSquared };
}

/** A product of many factors is turned into a logarithm before it leaves the range of numbers. */
const LARGE = 1e150;

/**
 * −2·log-likelihood up to a constant. With s = 1 + n·ratio² and D = s·tt + n·t̄², a component's part of the residual sum
 * of squares in the intercept, γ − 2β·a + α·a², is α = n·tt/D, β = n(w̄·tt − t̄·tw)/D, γ = ww − (s·tw² − n·w̄(w̄·tt − 2t̄·tw))/D.
 */
export function devianceWith(sums: SumsOnClock, ratio: number): number {
  const { n, tt, meanSquare, perSquare } = sums;
  let alpha = 0;
  let beta = 0;
  let gamma = sums.wearSquared;
  let logs = 0;
  let factors = 1;
  for (let i = 0; i < sums.components; i++) {
    const count = n[i]!;
    const spread = 1 + count * ratio * ratio;
    const whole = spread * tt[i]! + meanSquare[i]!;
    const inverse = 1 / whole;
    alpha += count * tt[i]! * inverse;
    beta += count * sums.beta[i]! * inverse;
    gamma -= (spread * sums.product[i]! - count * sums.gamma[i]!) * inverse;
    // The rates' information relative to that of the hours alone, so that the unit of hours^c plays no part.
    factors *= whole * perSquare[i]!;
    if (factors > LARGE || factors < 1 / LARGE) {
      logs += Math.log(factors);
      factors = 1;
    }
  }
  const rss = gamma - (beta * beta) / alpha;
  const scale = gamma + Math.abs(beta);
  if (!(rss > 1e-13 * scale)) return Number.NEGATIVE_INFINITY;
  return (sums.readings - sums.components - 1) * Math.log(rss) + logs + Math.log(factors);
}
