/**
 * Integrals over a component's rate b > 0 of exp(Q·b − ½P·b²) times the density of the rates: closed for normal rates
 * given above zero, by adaptive Gauss-Hermite quadrature about the mode for lognormal ones.
 *
 * Source: Pinheiro and Bates (1995), J. Comput. Graph. Stat. 4, 12-35, for the adaptive rule.
 */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { tabulatedLogNormalCdf } from "../math/tabulated-normal.ts";

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
  const logAlpha = tabulatedLogNormalCdf(alpha);
  const logPrior = tabulatedLogNormalCdf(k);
  const mills = inverseMills(alpha, logAlpha);
  const millsPrior = inverseMills(k, logPrior);
  out.log =
    -0.5 * Math.log(widened) +
    (0.5 * (q * q * s * s + 2 * q * location - p * location * location)) / widened +
    logAlpha -
    logPrior;
  out.mean = centre + mills * sd;
  out.square = centre * centre + sd * sd + centre * mills * sd;
  out.byLocation = shift + (mills / Math.sqrt(widened) - millsPrior) / s;
  const tail = 2 * shift * s * s * mills * sd - alpha * mills * sd * sd;
  const bySpread = s * shift * shift - (p * s) / widened + tail / (s * s * s) + (k * millsPrior) / s;
  out.bySpread = signedSpread < 0 ? -bySpread : bySpread;
}

/** φ(x)/Φ(x), to the far lower tail. */
const inverseMills = (x: number, logCdf: number): number =>
  x > 38 ? 0 : Math.exp(-0.5 * x * x - 0.5 * LOG_2PI - logCdf);

/** A rule with the normal density that its weights contain divided out, for use about a mode. */
function aboutMode(points: number) {
  const { nodes, weights } = normalQuadrature(points);
  return { nodes, logWeights: weights.map((weight, k) => Math.log(weight) + 0.5 * nodes[k]! ** 2) };
}
/** By how far the readings' error is below the rates' spread: right to 1e-9. */
const SHARP_RULES = [
  { belowSpread: 0.05, rule: aboutMode(5) },
  { belowSpread: 0.2, rule: aboutMode(7) },
  { belowSpread: 0.45, rule: aboutMode(9) },
] as const;
const many = aboutMode(RATE_POINTS);

/**
 * Lognormal rates b = exp(location + spread·z): adaptive quadrature about the mode, in b where the readings say far more
 * of it than the distribution does (they are normal in b), else in z.
 */
export function lognormalTerm(
  p: number,
  q: number,
  location: number,
  spread: number,
  out: RateIntegral,
): void {
  // Standard error of the rate that fits best, as a share of it.
  const error = q > 0 ? Math.sqrt(p) / q : Number.POSITIVE_INFINITY;
  const share = error / Math.abs(spread);
  const sharp = error < SHARP ? SHARP_RULES.find(({ belowSpread }) => share < belowSpread) : undefined;
  if (sharp === undefined) overSpread(p, q, location, spread, out);
  else overRate(p, q, location, spread, sharp.rule, out);
}

/** With a larger error points would come near a rate of zero. */
const SHARP = 0.12;

/** In b: the integrand's logarithm is q·b − ½p·b² − log b − ½z², z = (log b − location)/spread. */
function overRate(
  p: number,
  q: number,
  location: number,
  signedSpread: number,
  { nodes, logWeights }: ReturnType<typeof aboutMode>,
  out: RateIntegral,
): void {
  const s = Math.abs(signedSpread);
  const perSquare = 1 / (s * s);
  let b = q / p;
  let curvature = p;
  for (let step = 0; step < 8; step++) {
    const u = 1 + (Math.log(b) - location) * perSquare;
    curvature = p + (perSquare - u) / (b * b);
    const move = (q - p * b - u / b) / curvature;
    b += move;
    if (Math.abs(move) < 1e-4 * b) break;
  }
  const width = 1 / Math.sqrt(curvature);
  const off = Math.log(b) - location;
  const top = q * b - 0.5 * p * b * b - off - 0.5 * off * off * perSquare;
  let sum = 0;
  let first = 0;
  let second = 0;
  let z1 = 0;
  let z2 = 0;
  for (let k = 0; k < nodes.length; k++) {
    const at = b + width * nodes[k]!;
    const distance = Math.log(at) - location;
    const log = q * at - 0.5 * p * at * at - distance - 0.5 * distance * distance * perSquare;
    const weight = Math.exp(logWeights[k]! + log - top);
    sum += weight;
    first += weight * at;
    second += weight * at * at;
    z1 += weight * distance;
    z2 += weight * distance * distance;
  }
  // 1/b of the density: log b is off + location.
  out.log = Math.log((width * sum) / s) + top - location;
  out.mean = first / sum;
  out.square = second / sum;
  out.byLocation = (z1 / sum) * perSquare;
  const bySpread = ((z2 / sum) * perSquare - 1) / s;
  out.bySpread = signedSpread < 0 ? -bySpread : bySpread;
}

function overSpread(p: number, q: number, location: number, spread: number, out: RateIntegral): void {
  const { nodes, logWeights } = many;
  const { at, width } = lognormalMode(p, q, location, spread);
  let largest = Number.NEGATIVE_INFINITY;
  const logs = nodeLogs;
  for (let k = 0; k < RATE_POINTS; k++) {
    const z = at + width * nodes[k]!;
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
