/** The plain mean over the components' own rates of the chance to be below a limit, as a curve over hours. */
import { normalCdfInSums } from "../math/tabulated-normal.ts";
import type { ComponentRates } from "./component-rates.ts";
import { readingSdMm } from "./rate-families.ts";
import type { RateTail } from "./tail.ts";

/** Rates ascending, with their shares, and the sum of the shares before each. */
interface Sorted {
  readonly rates: Float64Array;
  readonly shares: Float64Array;
  readonly before: Float64Array;
}

const known = new WeakMap<ComponentRates, Sorted>();

function sorted(rates: ComponentRates): Sorted {
  const ready = known.get(rates);
  if (ready !== undefined) return ready;
  const order = Array.from(rates.weight.keys()).sort(
    (i, j) => rates.rateMmPer1000Hours[i]! - rates.rateMmPer1000Hours[j]!,
  );
  const total = rates.weight.reduce((sum, weight) => sum + weight, 0);
  const shares = Float64Array.from(order, (i) => rates.weight[i]! / total);
  const before = new Float64Array(order.length + 1);
  for (let k = 0; k < order.length; k++) before[k + 1] = before[k]! + shares[k]!;
  const made = { rates: Float64Array.from(order, (i) => rates.rateMmPer1000Hours[i]!), shares, before };
  known.set(rates, made);
  return made;
}

/** Beyond so many standard deviations of a reading it is below the limit for certain, or not at all. */
const CERTAIN = 8.3;

/** Only the components near the limit at some hours are gone through: those with less wear are below it, others over. */
export function observedBelow({ fit, rates: own }: RateTail, limitMm: number): (hours: number) => number {
  const { rates, shares, before } = sorted(own);
  const roomMm = limitMm - fit.parameters.interceptMm;
  const omega = Math.max(readingSdMm(fit.parameters), 1e-12);
  return (hours) => {
    const thousands = hours / 1000;
    const from = firstAtLeast(rates, (roomMm - CERTAIN * omega) / thousands);
    const to = firstAtLeast(rates, (roomMm + CERTAIN * omega) / thousands);
    let sum = before[from]!;
    for (let k = from; k < to; k++) {
      sum += shares[k]! * normalCdfInSums((roomMm - rates[k]! * thousands) / omega);
    }
    return sum;
  };
}

/** Place of the first rate that is at least this one. */
function firstAtLeast(rates: Float64Array, rate: number): number {
  let low = 0;
  let high = rates.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rates[middle]! < rate) low = middle + 1;
    else high = middle;
  }
  return low;
}
