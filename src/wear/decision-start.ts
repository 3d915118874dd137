/** Where the decision fit's search begins. */
import type { ComponentSums } from "./component-sums.ts";
import type { DecisionData } from "./decision-likelihood.ts";
import type { RateFamily } from "./rate-families.ts";

/** Starts by moments: the pooled line's intercept, each component's mean rate from it, scatter about own lines. */
export function startingTheta(data: DecisionData, family: RateFamily): Float64Array {
  const { sums } = data;
  let within = 0;
  let free = 0;
  let h = 0;
  let w = 0;
  for (let i = 0; i < sums.components; i++) {
    const n = sums.count[i]!;
    h += n * sums.meanHours[i]!;
    w += n * sums.meanWearMm[i]!;
    if (n < 3 || !(sums.hoursSquared[i]! > 0)) continue;
    within += Math.max(0, sums.wearSquared[i]! - sums.hoursWear[i]! ** 2 / sums.hoursSquared[i]!);
    free += n - 2;
  }
  const size = Math.abs(w / sums.readings);
  // Where hardly any component has three readings its own line leaves no scatter, but a ray from zero does.
  const scatter = free < 5 ? rayScatter(sums) : Math.sqrt(within / free);
  const sigma = Math.max(scatter, 1e-4 * size, 1e-12);
  const slope = w / h;
  const intercept = Math.min(sigma, 0.1 * size);
  const rates: number[] = [];
  for (let i = 0; i < sums.components; i++) {
    if (!(sums.meanHours[i]! > 0)) continue;
    const rate = (sums.meanWearMm[i]! - intercept) / sums.meanHours[i]!;
    rates.push(1000 * Math.max(rate, 0.1 * slope));
  }
  const values = family === "lognormal" ? rates.map((rate) => Math.log(rate)) : rates;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
  const least = family === "lognormal" ? 0.05 : 0.05 * Math.abs(mean);
  // An offset half as wide as the scatter: φ = arctan 0.5, ω = σ·√1.25.
  return Float64Array.of(intercept, 0.4636, Math.log(1.118 * sigma), mean, Math.max(spread, least));
}

/** Scatter about rays w = b·h, one a component. */
function rayScatter(sums: ComponentSums): number {
  let squares = 0;
  let free = 0;
  for (let i = 0; i < sums.components; i++) {
    const n = sums.count[i]!;
    const hh = sums.hoursSquared[i]! + n * sums.meanHours[i]! ** 2;
    if (n < 2 || !(hh > 0)) continue;
    const hw = sums.hoursWear[i]! + n * sums.meanHours[i]! * sums.meanWearMm[i]!;
    squares += Math.max(0, sums.wearSquared[i]! + n * sums.meanWearMm[i]! ** 2 - (hw * hw) / hh);
    free += n - 1;
  }
  return Math.sqrt(squares / Math.max(1, free));
}
