/**
 * A seeded bootstrap of whole aircraft.
 * Source: Davison and Hinkley (1997), Bootstrap Methods, section 3.8 (resampling clusters).
 */
import { seededRandom } from "../math/random.ts";
import type { LifeTable } from "../records/life-table.ts";
import { rowLikelihood } from "./cluster.ts";
import type { Quantity } from "./likelihood-region.ts";
import { likelihoodUnder } from "./likelihood-terms.ts";
import { type FittedWeibull, likeliestPoint, type WeibullParameters } from "./weibull-fit.ts";

export interface ClusterBootstrap {
  /** Parameters of each resample that had a fit. */
  readonly parameters: readonly WeibullParameters[];
  readonly withoutFit: number;
}

/** Above this many rows a resample takes one Newton step from the fit instead of a fit of its own. */
const REFIT_ROWS = 400;

/** Resamples whole clusters with replacement and fits again. Seeded. */
export function clusterBootstrap(
  fit: FittedWeibull,
  table: LifeTable,
  options: { readonly seed: number; readonly resamples: number },
): ClusterBootstrap {
  const units = unitsOf(table);
  const random = seededRandom(options.seed);
  const parameters: WeibullParameters[] = [];
  const fitTo = table.rows > REFIT_ROWS ? oneStepper(fit, table, units) : refitter(fit, table, units);
  const drawn = new Int32Array(units.number);
  for (let r = 0; r < options.resamples; r++) {
    for (let k = 0; k < drawn.length; k++) drawn[k] = random.below(drawn.length);
    const again = fitTo(drawn);
    if (again !== null) parameters.push(again);
  }
  return { parameters, withoutFit: options.resamples - parameters.length };
}

/** What is drawn as one: rows start[k] to start[k + 1] of `row`, each with so many lives. */
interface Units {
  readonly number: number;
  readonly start: Int32Array;
  readonly row: Int32Array;
  readonly lives: Float64Array;
}

/** Of a resample's fit: its parameters are then right to eight digits. */
const LAST_STEP = 1e-4;

/** Fits begin at the one step, which is near. */
function refitter(
  fit: FittedWeibull,
  table: LifeTable,
  units: Units,
): (drawn: Int32Array) => WeibullParameters | null {
  const likelihoodOf = likelihoodUnder(table);
  const nearOf = oneStepper(fit, table, units);
  const { start, row, lives } = units;
  const count = new Float64Array(table.rows);
  return (drawn) => {
    count.fill(0);
    for (let k = 0; k < drawn.length; k++) {
      const unit = drawn[k]!;
      for (let at = start[unit]!; at < start[unit + 1]!; at++) count[row[at]!]! += lives[at]!;
    }
    const near = nearOf(drawn);
    const sound = near !== null && Math.abs(Math.log(near.shape / fit.shape)) < 1;
    const again = likeliestPoint(likelihoodOf(count, fit.likelihood.centre), sound ? near : fit, LAST_STEP);
    return again && { shape: again.shape, scaleHours: again.scaleHours };
  };
}

/** Score (a, b) and information (aa, ab, bb) of each unit. */
const SUMS = 5;

/** One Newton step in (alpha, log beta) from the fit, with the resample's own score and information. */
function oneStepper(
  fit: FittedWeibull,
  table: LifeTable,
  units: Units,
): (drawn: Int32Array) => WeibullParameters | null {
  const { beta } = fit;
  const sums = new Float64Array(SUMS * units.number);
  for (let unit = 0; unit < units.number; unit++) {
    for (let at = units.start[unit]!; at < units.start[unit + 1]!; at++) {
      const one = rowLikelihood(table, units.row[at]!, fit);
      const lives = units.lives[at]!;
      const to = SUMS * unit;
      sums[to]! += lives * one.gradAlpha;
      sums[to + 1]! += lives * beta * one.gradBeta;
      sums[to + 2]! -= lives * one.hessAlphaAlpha;
      sums[to + 3]! -= lives * beta * one.hessAlphaBeta;
      sums[to + 4]! -= lives * (beta * beta * one.hessBetaBeta + beta * one.gradBeta);
    }
  }
  return (drawn) => {
    let [a, b, aa, ab, bb] = [0, 0, 0, 0, 0];
    for (let k = 0; k < drawn.length; k++) {
      const from = SUMS * drawn[k]!;
      a += sums[from]!;
      b += sums[from + 1]!;
      aa += sums[from + 2]!;
      ab += sums[from + 3]!;
      bb += sums[from + 4]!;
    }
    const determinant = aa * bb - ab * ab;
    if (!(determinant > 0 && aa > 0)) return null;
    const alpha = fit.alpha + (bb * a - ab * b) / determinant;
    const shape = beta * Math.exp((aa * b - ab * a) / determinant);
    return { shape, scaleHours: Math.exp(fit.likelihood.centre - alpha / shape) };
  };
}

/** Values of a quantity over the resamples, sorted; those that are no number are left out. */
export function bootstrapValues(bootstrap: ClusterBootstrap, quantity: Quantity): Float64Array {
  const values = Float64Array.from(bootstrap.parameters, quantity);
  return values.filter((value) => !Number.isNaN(value)).sort();
}

/** All rows of a cluster, or a single life of a row that stands alone. */
function unitsOf(table: LifeTable): Units {
  const units: { row: number; lives: number }[][] = [];
  const byCluster = new Map<number, { row: number; lives: number }[]>();
  for (let row = 0; row < table.rows; row++) {
    const cluster = table.cluster[row]!;
    const lives = table.count[row]!;
    if (cluster < 0) {
      for (let k = 0; k < lives; k++) units.push([{ row, lives: 1 }]);
      continue;
    }
    const same = byCluster.get(cluster);
    if (same !== undefined) same.push({ row, lives });
    else {
      const fresh = [{ row, lives }];
      byCluster.set(cluster, fresh);
      units.push(fresh);
    }
  }
  const start = new Int32Array(units.length + 1);
  for (const [k, rows] of units.entries()) start[k + 1] = start[k]! + rows.length;
  const rows = units.flat();
  return {
    number: units.length,
    start,
    row: Int32Array.from(rows, ({ row }) => row),
    lives: Float64Array.from(rows, ({ lives }) => lives),
  };
}

/** The value below which a share of sorted values lies (type 7). */
export function sortedQuantile(sorted: Float64Array, share: number): number | null {
  if (sorted.length === 0) return null;
  const place = share * (sorted.length - 1);
  const low = Math.floor(place);
  const next = sorted[Math.min(low + 1, sorted.length - 1)]!;
  return sorted[low]! + (place - low) * (next - sorted[low]!);
}
