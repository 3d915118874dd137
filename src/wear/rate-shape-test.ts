/** Whether the components' rates look as the fitted family says: Anderson-Darling, and the largest one. */
import { standardNormalCdf, standardNormalQuantile } from "../math/distributions.ts";
import { normalQuadrature } from "../math/gauss-hermite.ts";
import type { ComponentRates } from "./component-rates.ts";
import { type RateParameters, rateCdf, rateQuantile } from "./rate-families.ts";

export type RateShapeTest =
  | {
      readonly kind: "tested";
      /** Those whose own rates are known well enough to say anything about the spread. */
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

/** Points for averaging over the error of one component's rate. */
const ERROR_POINTS = 15;

/**
 * Tests rates for the fitted distribution: each is put at its place in the distribution of rates as they can be estimated
 * (the fitted one with its own error added), and the places, as standard normal values, are tested for the normal. Left
 * out, where enough remain, are components whose error is over the spread itself, as after one early look: they say
 * nothing of its shape. The
 * error depends on when looks were made, not on what they found. One that entered late is judged among those that could
 * have been met then: its place in the distribution cut off at the largest rate with which it could have come so far.
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
  const largestError = rateQuantile(parameters, ONE_SD) - rateQuantile(parameters, 0.5);
  const taken = [...rates.standardError.keys()].filter(use);
  const known = taken.filter((i) => rates.standardError[i]! <= largestError);
  // Where components are as good as alike, their errors are all there is to test.
  const values = (known.length >= LEAST ? known : taken).map((i) => standardised(rates, parameters, i));
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

/** Share of a normal distribution below one standard deviation up. */
const ONE_SD = standardNormalCdf(1);

/** The rate's place in its distribution as a standard normal value. */
function standardised(
  { rateMmPer1000Hours, standardError, largestMet }: ComponentRates,
  parameters: RateParameters,
  i: number,
): number {
  const most = largestMet[i]!;
  const fromNew = most === Number.POSITIVE_INFINITY;
  const below = estimatedBelow(parameters, rateMmPer1000Hours[i]!, standardError[i]!, most);
  const share = below / (fromNew ? 1 : rateCdf(parameters, most));
  // Scatter can put an estimate at the cut or past it; half a component's room is left above it.
  const room = fromNew ? 1e-15 : 0.5 / rateMmPer1000Hours.length;
  return standardNormalQuantile(Math.min(Math.max(share, 1e-12), 1 - room));
}

/**
 * Chance that a component's rate is at most `most` and, estimated with a normal error, comes out at or below a value: what
 * is cut off are rates, not their estimates, which scatter past the cut.
 */
function estimatedBelow(
  parameters: RateParameters,
  rate: number,
  standardError: number,
  most: number,
): number {
  const { nodes, weights } = normalQuadrature(ERROR_POINTS);
  let sum = 0;
  for (let k = 0; k < ERROR_POINTS; k++) {
    sum += weights[k]! * rateCdf(parameters, Math.min(most, rate - standardError * nodes[k]!));
  }
  return sum;
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
