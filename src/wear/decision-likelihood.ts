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
import { type ComponentTerm, columnsOf, cosineOf, emptyTerm, termsAt } from "./component-terms.ts";
import type { RateFamily, RateParameters } from "./rate-families.ts";

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

export interface DecisionLikelihood {
  readonly family: RateFamily;
  /** Log-likelihood at θ, −Infinity where θ is impossible; the same pass puts its gradient into `gradient`. */
  evaluate(theta: ArrayLike<number>, gradient: Float64Array): number;
  /** Log-likelihood at θ; −Infinity where θ is impossible. */
  value(theta: ArrayLike<number>): number;
  /** Gradient of the log-likelihood. */
  gradient(theta: ArrayLike<number>): Float64Array;
  /** Gradient of each component's own term, components × 5. */
  scores(theta: ArrayLike<number>): Float64Array;
  /** What each component's readings and its late entry say of location and spread: components × `RATE_TERMS`. */
  rateTerms(theta: ArrayLike<number>): Float64Array;
}

/** Log-likelihood, by location, by spread; the same three of the log of the chance of entry (0 from new). */
export const RATE_TERMS = 6;

/** The likelihood of a group for one family of rates. */
export function decisionLikelihood(data: DecisionData, family: RateFamily): DecisionLikelihood {
  const columns = columnsOf(data);
  const { components } = columns;
  const each = (theta: ArrayLike<number>, use: (term: ComponentTerm, i: number) => void, scores = true) => {
    const fill = termsAt(columns, family, theta, scores);
    const term = emptyTerm();
    for (let i = 0; i < components; i++) {
      fill(i, term);
      use(term, i);
    }
  };
  const evaluate = (theta: ArrayLike<number>, gradient: Float64Array | null): number => {
    gradient?.fill(0);
    const omega = Math.exp(theta[2]!);
    if (!(omega > 1e-12) || !(omega < 1e12)) return Number.NEGATIVE_INFINITY;
    const penalty = penaltyOf(family, theta);
    let total = -penalty.value;
    const addValue = ({ log, entryLog }: ComponentTerm) => {
      total += log - entryLog;
    };
    if (gradient === null) {
      each(theta, addValue, false);
    } else {
      gradient[3] = -penalty.byLocation;
      gradient[4] = -penalty.bySpread;
      each(theta, (term) => {
        addValue(term);
        for (let k = 0; k < PARAMETERS; k++) gradient[k]! += term.score[k]! - term.entryScore[k]!;
      });
    }
    return Number.isFinite(total) ? total : Number.NEGATIVE_INFINITY;
  };
  return {
    family,
    evaluate,
    value: (theta) => evaluate(theta, null),
    gradient: (theta) => {
      const gradient = new Float64Array(PARAMETERS);
      evaluate(theta, gradient);
      return gradient;
    },
    scores: (theta) => {
      const all = new Float64Array(components * PARAMETERS);
      const { byLocation, bySpread } = penaltyOf(family, theta);
      each(theta, ({ score, entryScore }, i) => {
        for (let k = 0; k < PARAMETERS; k++) all[i * PARAMETERS + k] = score[k]! - entryScore[k]!;
        all[i * PARAMETERS + 3]! -= byLocation / components;
        all[i * PARAMETERS + 4]! -= bySpread / components;
      });
      return all;
    },
    rateTerms: (theta) => {
      const all = new Float64Array(components * RATE_TERMS);
      each(theta, ({ log, score, entryLog, entryScore }, i) => {
        const at = i * RATE_TERMS;
        all[at] = log;
        all[at + 1] = score[3]!;
        all[at + 2] = score[4]!;
        all[at + 3] = entryLog;
        all[at + 4] = entryScore[3]!;
        all[at + 5] = entryScore[4]!;
      });
      return all;
    },
  };
}

/** For normal rates 25·(−1 − location/spread)² where that is positive, and its derivatives. */
function penaltyOf(family: RateFamily, theta: ArrayLike<number>) {
  const location = theta[3]!;
  const s = Math.max(Math.abs(theta[4]!), 1e-9);
  const over = family === "normal" ? Math.max(0, -1 - location / s) : 0;
  const bySpread = (50 * over * location) / (s * s);
  return {
    value: 25 * over * over,
    byLocation: (-50 * over) / s,
    bySpread: theta[4]! < 0 ? -bySpread : bySpread,
  };
}
