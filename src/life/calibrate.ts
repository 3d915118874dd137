/**
 * Calibration of likelihood-ratio bounds for few events, by a seeded parametric bootstrap.
 *
 * The chi-squared quantile is right for many events; for few, one-sided bounds miss too often on one side. Lives are drawn
 * again and again from the fitted Weibull under the looks that were made, and the drop is taken that the known truth asks
 * for: the quantile of the signed root of the likelihood ratio of an early life (the 10 % life, or the one nearest the
 * share of events seen). Source: Davison and Hinkley (1997), Bootstrap Methods, section 5.4; DiCiccio, Martin and
 * Stern (2001), Canadian J. Statist. 29, 67-76.
 */
import { power } from "../math/power.ts";
import { type Random, seededRandom } from "../math/random.ts";
import type { LifeTable } from "../records/life-table.ts";
import { oneSidedDrop } from "./likelihood-drop.ts";
import { weibullLikelihood } from "./likelihood-terms.ts";
import { lifeAt, profileDeviance } from "./profile-bounds.ts";
import { type FittedWeibull, likeliestPoint, type WeibullParameters } from "./weibull-fit.ts";

export interface CalibratedDrops {
  /** Twice the log-likelihood drop for the bound towards short lives (high risk), and towards long ones. */
  readonly shortLife: number;
  readonly longLife: number;
  readonly resamples: number;
  /** Draws that had no fit (too few events), which say nothing. */
  readonly withoutFit: number;
}

/** Signed roots of the likelihood ratio at the known truth, ascending, from lives drawn again and again from the fit. */
export interface SimulatedRoots {
  /** Positive: the estimate is longer than the truth, so the bound towards short lives has to reach down to it. */
  readonly roots: Float64Array;
  readonly withoutFit: number;
}

/** Of a sample's fit: the likelihood at the top is then right to twelve digits. */
const LAST_STEP = 1e-4;

/** Signed roots of the likelihood ratio in seeded samples from the fit, sorted. */
export function simulateRoots(
  fit: FittedWeibull,
  table: LifeTable,
  options: { readonly resamples: number; readonly seed: number },
): SimulatedRoots {
  const fraction = Math.min(0.5, Math.max(0.01, Math.min(0.1, fit.events / fit.lives)));
  const truth = lifeAt(fit, fraction);
  const { centre } = fit.likelihood;
  const draw = lifeRedraw(fit, table);
  const random = seededRandom(options.seed);
  const roots: number[] = [];
  let withoutFit = 0;
  for (let r = 0; r < options.resamples; r++) {
    const lives = weibullLikelihood(draw(random), centre);
    const again = lives.exact + lives.intervals < 3 ? null : likeliestPoint(lives, fit, LAST_STEP);
    const deviance = again === null ? Number.NaN : profileDeviance(lives, again, fraction, truth);
    if (again === null || Number.isNaN(deviance)) withoutFit++;
    else roots.push(Math.sign(lifeAt(again, fraction) - truth) * Math.sqrt(Math.max(0, deviance)));
  }
  return { roots: Float64Array.from(roots).sort(), withoutFit };
}

/** The drops that one-sided bounds at a confidence (above 0.5) ask for, by the simulated roots. */
export function dropsAt({ roots, withoutFit }: SimulatedRoots, confidence: number): CalibratedDrops {
  const plain = oneSidedDrop(confidence);
  if (roots.length < 50) return { shortLife: plain, longLife: plain, resamples: roots.length, withoutFit };
  const quantile = (share: number) => roots[Math.min(roots.length - 1, Math.ceil(share * roots.length) - 1)]!;
  return {
    // Never narrower than the plain bound: simulation noise must not flatter the part.
    shortLife: Math.max(plain, Math.max(0, quantile(confidence)) ** 2),
    longLife: Math.max(plain, Math.min(0, quantile(1 - confidence)) ** 2),
    resamples: roots.length,
    withoutFit,
  };
}

/**
 * Draws the lives again under the looks that were made: each from its own entry, to its own end of observation (for a
 * life with an event one drawn from the running lives that lasted longer), found at looks as far apart as its kind's.
 */
export function lifeRedraw(truth: WeibullParameters, table: LifeTable): (random: Random) => LifeTable {
  const ends = runningEnds(table);
  const spacing = typicalInterval(table);
  const rows = Array.from({ length: table.rows }, (_, i) => i).flatMap((i) =>
    Array.from({ length: table.count[i]! }, () => i),
  );
  const n = rows.length;
  const entryHours = Float64Array.from(rows, (i) => table.entryHours[i]!);
  const passed = entryHours.map((entry) => power(entry / truth.scaleHours, truth.shape));
  const same = {
    rows: n,
    entryHours,
    count: new Float64Array(n).fill(1),
    cluster: Int32Array.from(rows, (i) => table.cluster[i]!),
  };
  return (random) => {
    const drawn = { ...same, lowerHours: new Float64Array(n), upperHours: new Float64Array(n) };
    for (let k = 0; k < n; k++) {
      const i = rows[k]!;
      const entry = table.entryHours[i]!;
      const upper = table.upperHours[i]!;
      const end = upper === Number.POSITIVE_INFINITY ? table.lowerHours[i]! : endBeyond(ends, upper, random);
      const hours = truth.scaleHours * power(passed[k]! + random.exponential(), 1 / truth.shape);
      // hours = entry only by rounding: nothing was seen of such a life.
      if (hours > end || hours <= entry) {
        drawn.lowerHours[k] = hours > end ? end : entry;
        drawn.upperHours[k] = Number.POSITIVE_INFINITY;
      } else if (spacing === 0) {
        drawn.lowerHours[k] = hours;
        drawn.upperHours[k] = hours;
      } else {
        const look = entry + Math.floor((hours - entry) / spacing) * spacing;
        drawn.lowerHours[k] = look;
        drawn.upperHours[k] = Math.max(look + spacing, hours);
      }
    }
    return drawn;
  };
}

/** Hours at which lives that still run were last looked at, sorted, one a life. */
function runningEnds(table: LifeTable): Float64Array {
  const ends: number[] = [];
  for (let i = 0; i < table.rows; i++) {
    if (table.upperHours[i] !== Number.POSITIVE_INFINITY) continue;
    for (let k = 0; k < table.count[i]!; k++) ends.push(table.lowerHours[i]!);
  }
  return Float64Array.from(ends).sort();
}

function endBeyond(ends: Float64Array, hours: number, random: Random): number {
  let low = 0;
  while (low < ends.length && ends[low]! < hours) low++;
  if (low === ends.length) return Number.POSITIVE_INFINITY;
  return ends[low + random.below(ends.length - low)]!;
}

/** Median width of the intervals; 0 where events are exact. */
function typicalInterval(table: LifeTable): number {
  const widths: number[] = [];
  let exact = 0;
  for (let i = 0; i < table.rows; i++) {
    const width = table.upperHours[i]! - table.lowerHours[i]!;
    if (width === Number.POSITIVE_INFINITY || table.count[i] === 0) continue;
    if (width === 0) exact += table.count[i]!;
    else widths.push(width);
  }
  if (exact > widths.length || widths.length === 0) return 0;
  return widths.sort((a, b) => a - b)[widths.length >> 1]!;
}
