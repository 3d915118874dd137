/** One component's part of the decision likelihood (decision-likelihood.ts has the formulas), with its score. */
import type { ComponentSums } from "./component-sums.ts";
import { type EntryChance, entryChances } from "./entry-chance.ts";
import type { RateFamily } from "./rate-families.ts";
import { lognormalRates, normalRates, type RateIntegral } from "./rate-integrals.ts";

const LOG_2PI = Math.log(2 * Math.PI);

/** The sums with hours in thousands, so that rates are mm per 1000 h throughout. */
export interface Columns {
  readonly components: number;
  readonly n: Float64Array;
  readonly h: Float64Array;
  readonly w: Float64Array;
  readonly hh: Float64Array;
  readonly hw: Float64Array;
  readonly ww: Float64Array;
  readonly entry: Float64Array;
  readonly logEntry: Float64Array;
  readonly replaceAtMm: number;
}

/** Prepared once for all passes over the components. */
export function columnsOf({
  sums,
  entryHours,
  replaceAtMm,
}: {
  readonly sums: ComponentSums;
  readonly entryHours: Float64Array;
  readonly replaceAtMm: number;
}): Columns {
  return {
    components: sums.components,
    n: sums.count,
    h: sums.meanHours.map((hours) => hours / 1000),
    w: sums.meanWearMm,
    hh: sums.hoursSquared.map((squares) => squares / 1e6),
    hw: sums.hoursWear.map((products) => products / 1000),
    ww: sums.wearSquared,
    entry: entryHours.map((hours) => hours / 1000),
    logEntry: entryHours.map((hours) => Math.log(hours / 1000)),
    replaceAtMm,
  };
}

/** Scatter is never less than a thousandth of the whole: at none at all the sums would divide by zero. */
export const cosineOf = (angle: number): number => Math.max(Math.abs(Math.cos(angle)), 1e-3);

/** Of one component: filled for each in turn. */
export interface ComponentTerm {
  /** Log-likelihood of its readings, and its gradient in θ. */
  log: number;
  readonly score: Float64Array;
  /** Log of the chance of its late entry, 0 where it was followed from new, and the gradient of that. */
  entryLog: number;
  readonly entryScore: Float64Array;
}

/** Room for a term of five parameters. */
export const emptyTerm = (): ComponentTerm => ({
  log: 0,
  score: new Float64Array(5),
  entryLog: 0,
  entryScore: new Float64Array(5),
});

/**
 * Terms at θ: what doesn't depend on the component is computed once.
 *
 * @param scores  whether the gradients are wanted too; without, those of late entries come out as zeros
 */
export function termsAt(
  columns: Columns,
  family: RateFamily,
  theta: ArrayLike<number>,
  scores: boolean,
): (i: number, out: ComponentTerm) => void {
  const readings = readingsTerm(columns, family, theta);
  const entry = entryTerm(columns, family, theta, scores);
  return (i, out) => {
    readings(i, out);
    entry(i, out);
  };
}

type TermPart = (i: number, out: ComponentTerm) => void;

function readingsTerm(columns: Columns, family: RateFamily, theta: ArrayLike<number>): TermPart {
  const intercept = theta[0]!;
  const cosine = cosineOf(theta[1]!);
  const sigma = Math.exp(theta[2]!) * cosine;
  // interceptSd/σ, signed as φ is.
  const ratio = (Math.sin(theta[1]!) / cosine) * (Math.cos(theta[1]!) < 0 ? -1 : 1);
  const rates = (family === "lognormal" ? lognormalRates : normalRates)(theta[3]!, theta[4]!);
  const inverse = 1 / (sigma * sigma);
  const square = ratio * ratio;
  const perReading = -0.5 * LOG_2PI - Math.log(sigma);
  const integral: RateIntegral = { log: 0, mean: 0, square: 0, byLocation: 0, bySpread: 0 };
  const { n: counts, h: hours, w: wear, hh, hw, ww } = columns;
  return (i, out) => {
    const n = counts[i]!;
    const h = hours[i]!;
    const a = 1 + n * square;
    const meanWeight = (n * inverse) / a;
    const residual = wear[i]! - intercept;
    const p = hh[i]! * inverse + meanWeight * h * h;
    const q = hw[i]! * inverse + meanWeight * h * residual;
    const c = ww[i]! * inverse + meanWeight * residual * residual;
    rates(p, q, integral);
    const { mean } = integral;
    // Posterior means of (w̄ − a − b·h̄) and its square, and of the scatter about the component's line.
    const off = residual - mean * h;
    const offSquare = residual * residual - 2 * residual * h * mean + h * h * integral.square;
    const within = ww[i]! - 2 * hw[i]! * mean + hh[i]! * integral.square;
    const byRatio = ((meanWeight * offSquare - 1) * n * ratio) / a;
    const byScale = within * inverse + meanWeight * offSquare - n;
    const { score } = out;
    score[0] = meanWeight * off;
    score[1] = (1 + square) * byRatio - ratio * byScale;
    score[2] = byScale;
    score[3] = integral.byLocation;
    score[4] = integral.bySpread;
    out.log = n * perReading - 0.5 * Math.log(a) - 0.5 * c + integral.log;
  };
}

/** log P(reading at entry < R). */
function entryTerm(
  columns: Columns,
  family: RateFamily,
  theta: ArrayLike<number>,
  scores: boolean,
): TermPart {
  const omega = Math.exp(theta[2]!);
  const room = columns.replaceAtMm - theta[0]!;
  const chances = entryChances(family, theta[3]!, theta[4]!, room, omega, scores);
  const chance: EntryChance = { below: 0, byRoom: 0, byOmega: 0, byLocation: 0, bySpread: 0 };
  const { entry, logEntry } = columns;
  return (i, out) => {
    const { entryScore } = out;
    if (!(entry[i]! > 0)) {
      out.entryLog = 0;
      entryScore.fill(0);
      return;
    }
    chances(entry[i]!, logEntry[i]!, chance);
    const { below } = chance;
    out.entryLog = Math.log(below);
    entryScore[0] = -chance.byRoom / below;
    entryScore[2] = (chance.byOmega * omega) / below;
    entryScore[3] = chance.byLocation / below;
    entryScore[4] = chance.bySpread / below;
  };
}
