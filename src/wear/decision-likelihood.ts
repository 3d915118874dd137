/**
 * The marginal likelihood that decisions rest on: rates positive by construction, survivors weighed as survivors.
 *
 * Given its rate b, a component's readings are normal, and with its offset u integrated out their log-likelihood is
 *   −(n/2)·log 2π − n·log σ − ½·log A − ½(P·b² − 2·Q·b + C),      A = 1 + n·r²,  r = interceptSd/σ,
 *   P = Shh/σ² + n·h̄²/(σ²A),  Q = Shw/σ² + n·h̄(w̄ − a)/(σ²A),  C = Sww/σ² + n(w̄ − a)²/(σ²A),
 * so that only Gaussian integrals in b are left: closed for normal rates above zero, by quadrature
 * for lognormal ones (rate-integrals.ts). A component that entered late, at L hours, is divided by its chance of
 * a reading below R at L. The search is over θ = (a, φ, log ω, location, spread) with σ = ω·cos φ and
 * interceptSd = ω·sin φ: the likelihood is even in φ, in φ − π/2 and in the spread, so that a zero spread or scatter is
 * an ordinary optimum. Normal rates are kept from running off to an exponential by a penalty below location = −spread.
 * Gradients by Fisher's identity (Louis 1982, J. R. Stat. Soc. B 44, 226-233): posterior means of the complete score.
 */
import type { ComponentSums } from "./component-sums.ts";
import { chanceAtEntry, entryChances } from "./entry-chance.ts";
import type { RateFamily, RateParameters } from "./rate-families.ts";
import { lognormalTerm, normalTerm, type RateIntegral, type RateTerm } from "./rate-integrals.ts";

/** What the decision fit sees of a group. Arrays are by component, in the order of `sums`. */
export interface DecisionData {
  readonly sums: ComponentSums;
  /** Hours of the last look before the records began; 0 where the component was followed from new. */
  readonly entryHours: Float64Array;
  /** Aircraft number, for dependence; −1 where a component stands alone. */
  readonly aircraft: Int32Array;
  readonly replaceAtMm: number;
}

export const PARAMETERS = 5;
const LOG_2PI = Math.log(2 * Math.PI);

/** θ as named parameters. */
export const parametersOf = (family: RateFamily, theta: ArrayLike<number>): RateParameters => {
  const omega = Math.exp(theta[2]!);
  return {
    family,
    interceptMm: theta[0]!,
    interceptSdMm: omega * Math.abs(Math.sin(theta[1]!)),
    measurementSdMm: omega * cosineOf(theta[1]!),
    location: theta[3]!,
    spread: Math.abs(theta[4]!),
  };
};

/** Scatter is never less than a thousandth of the whole: at none at all the sums would divide by zero. */
const cosineOf = (angle: number): number => Math.max(Math.abs(Math.cos(angle)), 1e-3);

export interface DecisionLikelihood {
  readonly family: RateFamily;
  /** Log-likelihood at θ; −Infinity where θ is impossible. */
  value(theta: ArrayLike<number>): number;
  /** Gradient of the log-likelihood. */
  gradient(theta: ArrayLike<number>): Float64Array;
  /** Gradient of each component's own term, components × 5. */
  scores(theta: ArrayLike<number>): Float64Array;
  /** Each component's log-likelihood and the log of its chance of entry (0 from new), components × 2. */
  terms(theta: ArrayLike<number>): Float64Array;
}

/** The likelihood of a group for one family of rates. */
export function decisionLikelihood(data: DecisionData, family: RateFamily): DecisionLikelihood {
  const columns = inThousands(data);
  const rates = family === "lognormal" ? lognormalTerm : normalTerm;
  const run = (theta: ArrayLike<number>, scores: Float64Array | null): number => {
    const work = workAt(family, theta, data.replaceAtMm, scores !== null);
    if (!(work.omega > 1e-12) || !(work.omega < 1e12)) return Number.NEGATIVE_INFINITY;
    const penalty = family === "normal" ? runOffPenalty(theta[3]!, theta[4]!) : null;
    let total = penalty === null ? 0 : -penalty.value;
    for (let i = 0; i < columns.components; i++) {
      work.score?.fill(0);
      total += componentTerm(columns, i, work, rates);
      if (columns.entry[i]! > 0) total -= entryTerm(columns, i, work);
      if (scores === null) continue;
      if (penalty !== null) {
        work.score![3]! -= penalty.byLocation / columns.components;
        work.score![4]! -= penalty.bySpread / columns.components;
      }
      scores.set(work.score!, i * PARAMETERS);
    }
    return Number.isNaN(total) ? Number.NEGATIVE_INFINITY : total;
  };
  const scores = (theta: ArrayLike<number>) => {
    const all = new Float64Array(columns.components * PARAMETERS);
    run(theta, all);
    return all;
  };
  return {
    family,
    value: (theta) => run(theta, null),
    scores,
    terms: (theta) => {
      const work = workAt(family, theta, data.replaceAtMm, false);
      const terms = new Float64Array(2 * columns.components);
      for (let i = 0; i < columns.components; i++) {
        terms[2 * i] = componentTerm(columns, i, work, rates);
        terms[2 * i + 1] = columns.entry[i]! > 0 ? entryTerm(columns, i, work) : 0;
      }
      return terms;
    },
    gradient: (theta) => {
      const sum = new Float64Array(PARAMETERS);
      const all = scores(theta);
      for (let k = 0; k < all.length; k++) sum[k % PARAMETERS]! += all[k]!;
      return sum;
    },
  };
}

/** The sums with hours in thousands, so that rates are mm per 1000 h throughout. */
interface Columns {
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

function inThousands({ sums, entryHours, replaceAtMm }: DecisionData): Columns {
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

interface Work {
  readonly family: RateFamily;
  readonly theta: ArrayLike<number>;
  /** Standard deviation of one reading's distance from a + b·h: offset and scatter together. */
  readonly omega: number;
  readonly sigma: number;
  /** interceptSd/σ, signed as φ is. */
  readonly ratio: number;
  /** The component's score, filled when asked for. */
  readonly score: Float64Array | null;
  /** Chance of a reading below R at the entry look; used where no score is asked for. */
  readonly entryChance: (hours: number, logHours: number) => number;
}

function workAt(family: RateFamily, theta: ArrayLike<number>, replaceAtMm: number, withScore: boolean): Work {
  const omega = Math.exp(theta[2]!);
  const cosine = cosineOf(theta[1]!);
  const ratio = (Math.sin(theta[1]!) / cosine) * (Math.cos(theta[1]!) < 0 ? -1 : 1);
  const score = withScore ? new Float64Array(PARAMETERS) : null;
  const entryChance = entryChances(family, theta[3]!, theta[4]!, replaceAtMm - theta[0]!, omega);
  return { family, theta, omega, sigma: omega * cosine, ratio, score, entryChance };
}

/** 25·(−1 − location/spread)² where that is positive, and its derivatives. */
function runOffPenalty(location: number, signedSpread: number) {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const over = Math.max(0, -1 - location / s);
  const bySpread = (50 * over * location) / (s * s);
  return {
    value: 25 * over * over,
    byLocation: (-50 * over) / s,
    bySpread: signedSpread < 0 ? -bySpread : bySpread,
  };
}

const integral: RateIntegral = { log: 0, mean: 0, square: 0, byLocation: 0, bySpread: 0 };

function componentTerm(columns: Columns, i: number, work: Work, rates: RateTerm): number {
  const { theta, sigma, ratio, score } = work;
  const n = columns.n[i]!;
  const h = columns.h[i]!;
  const inverse = 1 / (sigma * sigma);
  const a = 1 + n * ratio * ratio;
  const meanWeight = (n * inverse) / a;
  const residual = columns.w[i]! - theta[0]!;
  const p = columns.hh[i]! * inverse + meanWeight * h * h;
  const q = columns.hw[i]! * inverse + meanWeight * h * residual;
  const c = columns.ww[i]! * inverse + meanWeight * residual * residual;
  rates(p, q, theta[3]!, theta[4]!, integral);
  if (score !== null) {
    const { mean, square } = integral;
    // Posterior means of (w̄ − a − b·h̄) and its square, and of the scatter about the component's line.
    const off = residual - mean * h;
    const offSquare = residual * residual - 2 * residual * h * mean + h * h * square;
    const within = columns.ww[i]! - 2 * columns.hw[i]! * mean + columns.hh[i]! * square;
    score[0] = meanWeight * off;
    const byRatio = (-n * ratio) / a + (meanWeight * n * ratio * offSquare) / a;
    const byScale = -n + within * inverse + meanWeight * offSquare;
    score[1] = (1 + ratio * ratio) * byRatio - ratio * byScale;
    score[2] = byScale;
    score[3] = integral.byLocation;
    score[4] = integral.bySpread;
  }
  return -0.5 * n * LOG_2PI - n * Math.log(sigma) - 0.5 * Math.log(a) - 0.5 * c + integral.log;
}

/** log P(reading at entry < R), its gradient subtracted from the score. */
function entryTerm(columns: Columns, i: number, work: Work): number {
  const { theta, omega, score } = work;
  if (score === null) return Math.log(work.entryChance(columns.entry[i]!, columns.logEntry[i]!));
  const room = columns.replaceAtMm - theta[0]!;
  const chance = chanceAtEntry(work.family, theta[3]!, theta[4]!, columns.entry[i]!, room, omega);
  const { below } = chance;
  score[0]! += chance.byRoom / below;
  score[2]! -= (chance.byOmega * omega) / below;
  score[3]! -= chance.byLocation / below;
  score[4]! -= chance.bySpread / below;
  return Math.log(below);
}
