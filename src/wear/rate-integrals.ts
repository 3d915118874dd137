/**
 * Integrals over a component's rate b > 0 of exp(Q·b − ½P·b²) times the density of the rates: closed for normal rates
 * given above zero, by adaptive Gauss-Hermite quadrature about the mode for lognormal ones.
 *
 * Source: Pinheiro and Bates (1995), J. Comput. Graph. Stat. 4, 12-35, for the adaptive rule.
 */
import { logStandardNormalCdf } from "../math/distributions.ts";
import { normalQuadrature } from "../math/gauss-hermite.ts";

const RATE_POINTS = 17;
const LOG_2PI = Math.log(2 * Math.PI);

/** log ∫ exp(Q·b − ½P·b²) f(b) db, and what the score needs: E b, E b², d/d location, d/d spread. */
export interface RateIntegral {
  log: number;
  mean: number;
  square: number;
  byLocation: number;
  bySpread: number;
}

export type RateTerm = (p: number, q: number, location: number, spread: number, out: RateIntegral) => void;

/** Normal rates given above zero: all in closed form, written so that nothing cancels when the spread is small. */
export function normalTerm(
  p: number,
  q: number,
  location: number,
  signedSpread: number,
  out: RateIntegral,
): void {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const widened = 1 + p * s * s;
  const sd = s / Math.sqrt(widened);
  const shift = (q - p * location) / widened;
  const centre = location + shift * s * s;
  const alpha = centre / sd;
  const k = location / s;
  const mills = inverseMills(alpha);
  const millsPrior = inverseMills(k);
  out.log =
    -0.5 * Math.log(widened) +
    (0.5 * (q * q * s * s + 2 * q * location - p * location * location)) / widened +
    logStandardNormalCdf(alpha) -
    logStandardNormalCdf(k);
  out.mean = centre + mills * sd;
  out.square = centre * centre + sd * sd + centre * mills * sd;
  out.byLocation = shift + (mills / Math.sqrt(widened) - millsPrior) / s;
  const tail = 2 * shift * s * s * mills * sd - alpha * mills * sd * sd;
  const bySpread = s * shift * shift - (p * s) / widened + tail / (s * s * s) + (k * millsPrior) / s;
  out.bySpread = signedSpread < 0 ? -bySpread : bySpread;
}

/** φ(x)/Φ(x), to the far lower tail. */
function inverseMills(x: number): number {
  return x > 38 ? 0 : Math.exp(-0.5 * x * x - 0.5 * LOG_2PI - logStandardNormalCdf(x));
}

const rule = normalQuadrature(RATE_POINTS);
/** Quadrature weights with the normal density they contain divided out, for use about a mode. */
const logWeights = rule.weights.map((weight, k) => Math.log(weight) + 0.5 * rule.nodes[k]! ** 2);

/** Lognormal rates b = exp(location + spread·z): adaptive quadrature in z about the mode. */
export function lognormalTerm(
  p: number,
  q: number,
  location: number,
  spread: number,
  out: RateIntegral,
): void {
  const { at, width } = lognormalMode(p, q, location, spread);
  let largest = Number.NEGATIVE_INFINITY;
  const logs = nodeLogs;
  for (let k = 0; k < RATE_POINTS; k++) {
    const z = at + width * rule.nodes[k]!;
    const b = Math.exp(location + spread * z);
    nodeZ[k] = z;
    nodeB[k] = b;
    const log = logWeights[k]! + q * b - 0.5 * p * b * b - 0.5 * z * z;
    logs[k] = log;
    if (log > largest) largest = log;
  }
  let sum = 0;
  let mean = 0;
  let square = 0;
  let z1 = 0;
  let z2 = 0;
  for (let k = 0; k < RATE_POINTS; k++) {
    const weight = Math.exp(logs[k]! - largest);
    const b = nodeB[k]!;
    sum += weight;
    mean += weight * b;
    square += weight * b * b;
    z1 += weight * b * nodeZ[k]!;
    z2 += weight * b * b * nodeZ[k]!;
  }
  out.log = Math.log(width * sum) + largest;
  out.mean = mean / sum;
  out.square = square / sum;
  out.byLocation = (q * mean - p * square) / sum;
  out.bySpread = (q * z1 - p * z2) / sum;
}

const nodeLogs = new Float64Array(RATE_POINTS);
const nodeZ = new Float64Array(RATE_POINTS);
const nodeB = new Float64Array(RATE_POINTS);

/** Mode in z of q·b − ½p·b² − ½z², and the width of the normal that fits its curvature. */
export function lognormalMode(
  p: number,
  q: number,
  location: number,
  spread: number,
): { at: number; width: number } {
  const best = q / p;
  const information = p * best * best;
  let z = 0;
  if (best > 0) {
    z = (spread * information * (Math.log(best) - location)) / (1 + spread * spread * information);
  }
  for (let step = 0; step < 50; step++) {
    const b = Math.exp(location + spread * z);
    const slope = spread * b * (q - p * b) - z;
    const convex = spread * spread * b * (2 * p * b - q) + 1;
    const safe = spread * spread * p * b * b + 1;
    const move = slope / (convex > 0.3 * safe ? convex : safe);
    const limited = Math.max(-2, Math.min(2, move));
    z += limited;
    if (Math.abs(limited) < 1e-9) break;
  }
  const b = Math.exp(location + spread * z);
  const curvature = spread * spread * b * (2 * p * b - q) + 1;
  return { at: z, width: 1 / Math.sqrt(Math.max(0.25, curvature)) };
}
