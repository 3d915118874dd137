/**
 * A two-part distribution of rates: most components, and a share of fast ones (a batch, a base, a seal that was never
 * set). Both parts have one spread; intercept and scatters are as in the single fit.
 */
import { minimise } from "../math/minimise.ts";
import { tabulatedLogNormalCdf } from "../math/tabulated-normal.ts";
import type { ComponentRates } from "./component-rates.ts";
import type { RateFit } from "./decision-fit.ts";
import { type DecisionLikelihood, PARAMETERS, parametersOf } from "./decision-likelihood.ts";
import type { RateParameters } from "./rate-families.ts";

/** Most components and a share of fast ones; both parts have the same spread. */
export interface RateMixture {
  readonly share: number;
  readonly most: RateParameters;
  readonly fast: RateParameters;
  readonly logLikelihood: number;
  readonly aic: number;
}

/** Two parts are only told apart with enough components for the small one to be more than a few. */
const LEAST_FOR_MIXTURE = 20;

/** A gain of two is what AIC asks for; rates alone may show a little less of it than the readings do. */
const WORTH_A_FIT = 0.5;

/**
 * The two-part mixture by maximum likelihood over (location, spread, step to the fast part, share). Null where AIC does
 * not ask for it.
 *
 * Mixtures have more than one maximum. So the components' own rates, each with its standard error and truncated where
 * it entered late, are fitted first, from three starts; that is quick, and its best is where the likelihood of the
 * readings starts, if there is anything in it.
 */
export function fitMixture(fit: RateFit, rates: ComponentRates): RateMixture | null {
  if (fit.components < LEAST_FOR_MIXTURE || !(fit.parameters.spread > 0)) return null;
  const start = startFromRates(fit, rates);
  if (start === null) return null;
  const value = (x: Float64Array) => -mixtureValue(fit.likelihood, fit.theta, x);
  const found = minimise(value, start, { tolerance: 1e-7, maxIterations: 40 });
  const aic = 2 * (PARAMETERS + 2) + 2 * found.value;
  if (!(aic < fit.aic)) return null;
  const { most, fast, share } = mixtureTheta(fit.theta, found.at);
  return {
    share,
    most: parametersOf(fit.family, most),
    fast: parametersOf(fit.family, fast),
    logLikelihood: -found.value,
    aic,
  };
}

/** The best mixture of the rates themselves, or null where it gains nothing worth a look over a single part. */
function startFromRates(fit: RateFit, rates: ComponentRates): Float64Array | null {
  const { location, spread } = fit.parameters;
  const points = standardPoints(fit, rates);
  const single = minimise(
    (x) => -pointsValue(points, x[0]!, Math.exp(x[1]!), 0, 0),
    [location, Math.log(spread)],
    {
      tolerance: 1e-8,
    },
  );
  const ceiling = 2 * spread;
  let best = { value: single.value - WORTH_A_FIT, at: null as Float64Array | null };
  for (const share of [0.05, 0.15, 0.35]) {
    const start = [
      location - share * spread,
      Math.log(0.7 * spread),
      Math.log(ceiling),
      Math.log(share / (1 - share)),
    ];
    const found = minimise(
      (x) => {
        const part = Math.exp(x[1]!);
        if (part < 0.1 * spread) return Number.POSITIVE_INFINITY;
        return -pointsValue(points, x[0]!, part, Math.exp(x[2]!), shareOf(x[3]!));
      },
      start,
      { tolerance: 1e-8, maxIterations: 100 },
    );
    if (found.value < best.value) best = { value: found.value, at: found.at };
  }
  return best.at;
}

/** Rates on the family's scale, with error variance and the largest that could have been met (infinite from new). */
interface Points {
  readonly value: Float64Array;
  readonly variance: Float64Array;
  readonly largest: Float64Array;
}

function standardPoints(fit: RateFit, rates: ComponentRates): Points {
  const log = fit.family === "lognormal";
  const { rateMmPer1000Hours: rate, standardError, largestMet } = rates;
  return {
    value: log ? rate.map(Math.log) : rate,
    variance: standardError.map((error, i) => (log ? error / rate[i]! : error) ** 2),
    largest: log ? largestMet.map(Math.log) : largestMet,
  };
}

function pointsValue(points: Points, location: number, spread: number, step: number, share: number): number {
  if (share > 0.5 || (share !== 0 && share < 1e-4)) return Number.NEGATIVE_INFINITY;
  let total = 0;
  for (let i = 0; i < points.value.length; i++) {
    const sd = Math.sqrt(spread * spread + points.variance[i]!);
    const one = logPart(points.value[i]! - location, sd);
    const late = Number.isFinite(points.largest[i]!);
    const z = (points.largest[i]! - location) / sd;
    const oneMet = late ? tabulatedLogNormalCdf(z) : 0;
    if (share === 0) {
      total += one - oneMet;
      continue;
    }
    const two = logPart(points.value[i]! - location - step, sd);
    const twoMet = late ? tabulatedLogNormalCdf(z - step / sd) : 0;
    total += logMix(one, two, share) - logMix(oneMet, twoMet, share);
  }
  return total;
}

const logPart = (distance: number, sd: number): number => -Math.log(sd) - 0.5 * (distance / sd) ** 2;

const shareOf = (logit: number): number => 1 / (1 + Math.exp(-logit));

function mixtureTheta(theta: Float64Array, x: Float64Array) {
  const most = theta.slice();
  most[3] = x[0]!;
  most[4] = Math.exp(x[1]!);
  const fast = most.slice();
  fast[3] = x[0]! + Math.exp(x[2]!);
  return { most, fast, share: shareOf(x[3]!) };
}

function mixtureValue(likelihood: DecisionLikelihood, theta: Float64Array, x: Float64Array): number {
  const { most, fast, share } = mixtureTheta(theta, x);
  // The parts can't collapse onto single components, and the fast one is the smaller.
  if (most[4]! < 0.1 * theta[4]! || share > 0.5 || share < 1e-4) return Number.NEGATIVE_INFINITY;
  const one = likelihood.terms(most);
  const two = likelihood.terms(fast);
  let total = 0;
  for (let k = 0; k < one.length; k += 2) {
    total += logMix(one[k]!, two[k]!, share) - logMix(one[k + 1]!, two[k + 1]!, share);
  }
  return total;
}

/** log((1 − share)·e^a + share·e^b) without overflow. */
function logMix(a: number, b: number, share: number): number {
  const most = Math.max(a, b);
  return most + Math.log((1 - share) * Math.exp(a - most) + share * Math.exp(b - most));
}
