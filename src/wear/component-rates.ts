/** Each component's own wear rate, from its readings alone, with what it is worth as a sample of the rates. */
import type { DecisionData } from "./decision-likelihood.ts";
import { meanRate, type RateParameters } from "./rate-families.ts";

/** Arrays by component, in the order of the sums. */
export interface ComponentRates {
  /** Best estimate of the rate, above zero, mm per 1000 h; not drawn towards the group's. */
  readonly rateMmPer1000Hours: Float64Array;
  /** Standard error of it, mm per 1000 h. */
  readonly standardError: Float64Array;
  /** The largest rate with which it could have been met: infinite from new, (R − a)/L where it entered at L hours. */
  readonly largestMet: Float64Array;
  /** Share of all components fitted that this one stands for (sum 1): survivors of late entry are slow. */
  readonly weight: Float64Array;
}

/** The smallest rate an estimate is given, as a share of the group's mean: rates are positive. */
const LEAST_SHARE = 0.01;

/**
 * Rates by generalised least squares about the group's intercept, its spread and scatter taken from the fit. One
 * reading is enough for an estimate.
 *
 * A component that entered at L hours could not have been met with a rate over (R − a)/L: its rate is a truncated
 * observation, and the shares are the product-limit estimate for such (Lynden-Bell 1971, Mon. Not. R. Astron. Soc. 155,
 * 95-118). Equal shares where all were followed from new.
 */
export function componentRates(data: DecisionData, parameters: RateParameters): ComponentRates {
  const { sums, entryHours, replaceAtMm } = data;
  const { interceptMm, interceptSdMm, measurementSdMm } = parameters;
  const rate = new Float64Array(sums.components);
  const standardError = new Float64Array(sums.components);
  for (let i = 0; i < sums.components; i++) {
    const n = sums.count[i]!;
    const h = sums.meanHours[i]! / 1000;
    const inverse = 1 / measurementSdMm ** 2;
    const meanWeight = n / (measurementSdMm ** 2 + n * interceptSdMm ** 2);
    const precision = (sums.hoursSquared[i]! / 1e6) * inverse + meanWeight * h * h;
    const product =
      (sums.hoursWear[i]! / 1000) * inverse + meanWeight * h * (sums.meanWearMm[i]! - interceptMm);
    rate[i] = product / precision;
    standardError[i] = 1 / Math.sqrt(precision);
  }
  // The fitted mean: that of the estimates can be anything where one was read after an hour or two.
  const mean = meanRate(parameters);
  const largest = new Float64Array(sums.components);
  for (let i = 0; i < sums.components; i++) {
    rate[i] = Math.max(rate[i]!, LEAST_SHARE * mean);
    const most =
      entryHours[i]! > 0 ? (1000 * (replaceAtMm - interceptMm)) / entryHours[i]! : Number.POSITIVE_INFINITY;
    largest[i] = Math.max(most, rate[i]!);
  }
  return {
    rateMmPer1000Hours: rate,
    standardError,
    largestMet: largest,
    weight: productLimitShares(rate, largest),
  };
}

/** Shares of values each observed only because it was at most its own `largest`. */
function productLimitShares(values: Float64Array, largest: Float64Array): Float64Array {
  const n = values.length;
  const falling = Array.from({ length: n }, (_, i) => i).sort((i, j) => values[j]! - values[i]! || i - j);
  const limits = Float64Array.from(largest).sort();
  const shares = new Float64Array(n);
  let below = 1;
  for (const [rank, i] of falling.entries()) {
    // Under observation at this value: those not above it that could have been as large.
    const value = values[i]!;
    const notAbove = n - rank;
    const couldNot = countBelow(limits, value);
    // A single one in the middle would take all the rest with it; it is given half.
    const atRisk = rank === n - 1 ? 1 : Math.max(2, notAbove - couldNot);
    shares[i] = below / atRisk;
    below -= shares[i]!;
  }
  return shares;
}

/** How many of the ascending values are below x. */
function countBelow(ascending: Float64Array, x: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Weighted mean over the components' own rates of what one rate means for a risk. */
export function meanOverComponents(rates: ComponentRates, ofRate: (rate: number) => number): number {
  let sum = 0;
  let weights = 0;
  for (let i = 0; i < rates.weight.length; i++) {
    sum += rates.weight[i]! * ofRate(rates.rateMmPer1000Hours[i]!);
    weights += rates.weight[i]!;
  }
  return sum / weights;
}
