/** Whether the components' rates look as the fitted family says: Anderson-Darling, and the largest one. */
import { standardNormalCdf, standardNormalQuantile } from "../math/distributions.ts";
import type { ComponentRates } from "./component-rates.ts";
import type { RateParameters } from "./rate-families.ts";

export type RateShapeTest =
  | {
      readonly kind: "tested";
      readonly components: number;
      /** A² with the small-sample factor for two estimated parameters. */
      readonly statistic: number;
      readonly p: number;
      /** The largest rate in standard deviations above the middle, and the chance that the largest of n is so large. */
      readonly largestStandardised: number;
      readonly largestP: number;
    }
  | { readonly kind: "too-few"; readonly components: number; readonly needed: number };

const LEAST = 8;

/**
 * Tests log rates (lognormal) or rates (normal) for the normal distribution, each standardised by the fitted spread and
 * its own standard error together. One that entered late is judged among those that could have been met then: its place
 * in the distribution cut off at the largest rate with which it could have come so far.
 *
 * @param use which components to take (say, those followed from new); all where left out
 * Source: Stephens (1974), J. Am. Stat. Assoc. 69, 730-737; p from D'Agostino and Stephens (1986), Goodness-of-Fit
 * Techniques, table 4.9 (from memory).
 */
export function rateShapeTest(
  rates: ComponentRates,
  parameters: RateParameters,
  use: (component: number) => boolean = () => true,
): RateShapeTest {
  const values: number[] = [];
  for (let i = 0; i < rates.rateMmPer1000Hours.length; i++) {
    if (use(i)) values.push(standardised(rates, parameters, i));
  }
  const n = values.length;
  if (n < LEAST) return { kind: "too-few", components: n, needed: LEAST };
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const sd = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1));
  if (!(sd > 0)) return { kind: "too-few", components: n, needed: LEAST };
  const sorted = values.map((v) => (v - mean) / sd).sort((a, b) => a - b);
  const statistic = andersonDarling(sorted.map(standardNormalCdf)) * (1 + 0.75 / n + 2.25 / n ** 2);
  const largest = sorted[n - 1]!;
  return {
    kind: "tested",
    components: n,
    statistic,
    p: pOfNormal(statistic),
    largestStandardised: largest,
    largestP: -Math.expm1(n * Math.log(standardNormalCdf(largest))),
  };
}

/** The rate's place in its distribution as a standard normal value. */
function standardised(
  { rateMmPer1000Hours, standardError, largestMet }: ComponentRates,
  { family, location, spread }: RateParameters,
  i: number,
): number {
  const rate = rateMmPer1000Hours[i]!;
  const log = family === "lognormal";
  const sd = Math.hypot(spread, log ? standardError[i]! / rate : standardError[i]!);
  const place = (r: number) => ((log ? Math.log(r) : r) - location) / sd;
  const most = largestMet[i]!;
  if (most === Number.POSITIVE_INFINITY) return place(rate);
  // Scatter can put an estimate at the cut or past it; half a component's room is left above it.
  const share = standardNormalCdf(place(rate)) / standardNormalCdf(place(most));
  const room = 0.5 / rateMmPer1000Hours.length;
  return standardNormalQuantile(Math.min(Math.max(share, 1e-12), 1 - room));
}

/** A² of values that should be uniform, in ascending order. */
export function andersonDarling(uniform: readonly number[]): number {
  const n = uniform.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const below = Math.max(uniform[i]!, 1e-300);
    const above = Math.max(1 - uniform[n - 1 - i]!, 1e-300);
    sum += (2 * i + 1) * (Math.log(below) + Math.log(above));
  }
  return -n - sum / n;
}

/** p of the modified A² for a normal distribution with mean and SD estimated. */
function pOfNormal(a: number): number {
  if (a >= 0.6) return Math.min(1, Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a));
  if (a >= 0.34) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  if (a >= 0.2) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
}
