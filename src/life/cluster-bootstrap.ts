/**
 * A seeded bootstrap of whole aircraft.
 * Source: Davison and Hinkley (1997), Bootstrap Methods, section 3.8 (resampling clusters).
 */
import { seededRandom } from "../math/random.ts";
import type { LifeTable } from "../records/life-table.ts";
import { rowLikelihood } from "./cluster.ts";
import type { Quantity } from "./likelihood-region.ts";
import { likelihoodUnder } from "./likelihood-terms.ts";
import { type FittedWeibull, likeliestParameters, type WeibullParameters } from "./weibull-fit.ts";

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
  for (let r = 0; r < options.resamples; r++) {
    const drawn = Array.from(units, () => random.below(units.length));
    const again = fitTo(drawn);
    if (again !== null) parameters.push(again);
  }
  return { parameters, withoutFit: options.resamples - parameters.length };
}

type Unit = readonly { readonly row: number; readonly lives: number }[];

/** Fits begin at the one step, which is near. */
function refitter(
  fit: FittedWeibull,
  table: LifeTable,
  units: readonly Unit[],
): (drawn: readonly number[]) => WeibullParameters | null {
  const likelihoodOf = likelihoodUnder(table);
  const nearOf = oneStepper(fit, table, units);
  return (drawn) => {
    const count = new Float64Array(table.rows);
    for (const unit of drawn) for (const { row, lives } of units[unit]!) count[row]! += lives;
    const near = nearOf(drawn);
    const sound = near !== null && Math.abs(Math.log(near.shape / fit.shape)) < 1;
    return likeliestParameters(likelihoodOf(count, fit.likelihood.centre), sound ? near : fit);
  };
}

/** One Newton step in (alpha, log beta) from the fit, with the resample's own score and information. */
function oneStepper(
  fit: FittedWeibull,
  table: LifeTable,
  units: readonly Unit[],
): (drawn: readonly number[]) => WeibullParameters | null {
  const { beta } = fit;
  const sums = units.map((unit) => {
    const sum = [0, 0, 0, 0, 0];
    for (const { row, lives } of unit) {
      const at = rowLikelihood(table, row, fit);
      const parts = [
        at.gradAlpha,
        beta * at.gradBeta,
        -at.hessAlphaAlpha,
        -beta * at.hessAlphaBeta,
        -beta * beta * at.hessBetaBeta - beta * at.gradBeta,
      ];
      for (const [k, part] of parts.entries()) sum[k]! += lives * part;
    }
    return sum;
  });
  return (drawn) => {
    const total = new Float64Array(5);
    for (const unit of drawn) for (let k = 0; k < 5; k++) total[k]! += sums[unit]![k]!;
    const [a, b, aa, ab, bb] = [total[0]!, total[1]!, total[2]!, total[3]!, total[4]!];
    const determinant = aa * bb - ab * ab;
    if (!(determinant > 0 && aa > 0)) return null;
    const alpha = fit.alpha + (bb * a - ab * b) / determinant;
    const shape = beta * Math.exp((aa * b - ab * a) / determinant);
    return { shape, scaleHours: Math.exp(fit.likelihood.centre - alpha / shape) };
  };
}

/** Values of a quantity over the resamples, sorted; those that are no number are left out. */
export function bootstrapValues(bootstrap: ClusterBootstrap, quantity: Quantity): Float64Array {
  const values = bootstrap.parameters.map(quantity).filter((value) => !Number.isNaN(value));
  return Float64Array.from(values).sort();
}

/** What is drawn as one: all rows of a cluster, or a single life of a row that stands alone. */
function unitsOf(table: LifeTable): Unit[] {
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
  return units;
}

/** The value below which a share of sorted values lies (type 7). */
export function sortedQuantile(sorted: Float64Array, share: number): number | null {
  if (sorted.length === 0) return null;
  const place = share * (sorted.length - 1);
  const low = Math.floor(place);
  const next = sorted[Math.min(low + 1, sorted.length - 1)]!;
  return sorted[low]! + (place - low) * (next - sorted[low]!);
}
