/** The components' own rates in ascending order, so that a mean over them needs only those near a threshold. */
import type { ComponentRates } from "./component-rates.ts";

/** Rates ascending, with their shares of all components, and the sum of the shares before each. */
export interface SortedRates {
  readonly rates: Float64Array;
  readonly shares: Float64Array;
  readonly before: Float64Array;
}

const known = new WeakMap<object, SortedRates>();

/** Sorted once for each set of rates. */
export function sortedRates(own: Pick<ComponentRates, "rateMmPer1000Hours" | "weight">): SortedRates {
  const ready = known.get(own);
  if (ready !== undefined) return ready;
  const { rateMmPer1000Hours, weight } = own;
  const order = Array.from(weight.keys()).sort((i, j) => rateMmPer1000Hours[i]! - rateMmPer1000Hours[j]!);
  const total = weight.reduce((sum, value) => sum + value, 0);
  const shares = Float64Array.from(order, (i) => weight[i]! / total);
  const made = {
    rates: Float64Array.from(order, (i) => rateMmPer1000Hours[i]!),
    shares,
    before: sumsBefore(shares),
  };
  known.set(own, made);
  return made;
}

/** The sum of the values before each place, and of all at the end. */
export function sumsBefore(values: Float64Array): Float64Array {
  const before = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k++) before[k + 1] = before[k]! + values[k]!;
  return before;
}

/** Place of the first rate that is at least this one. */
export function firstAtLeast(rates: Float64Array, rate: number): number {
  let low = 0;
  let high = rates.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rates[middle]! < rate) low = middle + 1;
    else high = middle;
  }
  return low;
}
