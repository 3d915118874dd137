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

/** The integral for one component, by its P and Q. */
export type RateTerm = (p: number, q: number, out: RateIntegral) => void;

/**
 * Normal rates given above zero: all in closed form, written so that nothing cancels when the spread is small. What depends
 * on the rates alone is computed once.
 */
export function normalRates(location: number, signedSpread: number): RateTerm {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const k = location / s;
  const logPrior = tabulatedLogNormalCdf(k);
  const millsPrior = inverseMills(k, logPrior);
  const sign = signedSpread < 0 ? -1 : 1;
  return (p, q, out) => {
    const widened = 1 + p * s * s;
    const sd = s / Math.sqrt(widened);
    const shift = (q - p * location) / widened;
    const centre = location + shift * s * s;
    const alpha = centre / sd;
    const logAlpha = tabulatedLogNormalCdf(alpha);
    const mills = inverseMills(alpha, logAlpha);
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
    out.bySpread = sign * bySpread;
  };
}

/** φ(x)/Φ(x), to the far lower tail. */
const inverseMills = (x: number, logCdf: number): number =>
  x > 38 ? 0 : Math.exp(-0.5 * x * x - 0.5 * LOG_2PI - logCdf);

/** A rule with the normal density that its weights contain divided out, for use about a mode. */
function aboutMode(points: number) {
  const { nodes, weights } = normalQuadrature(points);
  return { points, nodes, weights: weights.map((weight, k) => weight * Math.exp(0.5 * nodes[k]! ** 2)) };
}
/** By how far the readings' error is below the rates' spread: right to 1e-9, the fewest to 1e-10. */
const SHARP_RULES = [
  { belowSpread: 0.03, rule: aboutMode(4) },
  { belowSpread: 0.065, rule: aboutMode(5) },
  { belowSpread: 0.09, rule: aboutMode(6) },
  { belowSpread: 0.2, rule: aboutMode(7) },
  { belowSpread: 0.45, rule: aboutMode(9) },
] as const;

/** The rule for an error that is this share of the spread; null where there are none so sharp. */
function sharpRule(share: number): ReturnType<typeof aboutMode> | null {
  for (let k = 0; k < SHARP_RULES.length; k++) {
    const { belowSpread, rule } = SHARP_RULES[k]!;
    if (share < belowSpread) return rule;
  }
  return null;
}
const many = aboutMode(RATE_POINTS);

/**
 * Lognormal rates b = exp(location + spread·z): adaptive quadrature about the mode, in b where the readings say far more
 * of it than the distribution does (they are normal in b), else in z.
 */
export function lognormalRates(location: number, spread: number): RateTerm {
  return (p, q, out) => {
    // Standard error of the rate that fits best, as a share of it.
    const error = q > 0 ? Math.sqrt(p) / q : Number.POSITIVE_INFINITY;
    const sharp = error < SHARP ? sharpRule(error / Math.abs(spread)) : null;
    if (sharp === null) overSpread(p, q, location, spread, out);
    else overRate(p, q, location, spread, sharp, out);
  };
}

/** With a larger error points would come near a rate of zero. */
const SHARP = 0.12;

/** In b: the integrand's logarithm is q·b − ½p·b² − log b − ½z², z = (log b − location)/spread. */
function overRate(
  p: number,
  q: number,
  location: number,
  signedSpread: number,
  { points, nodes, weights }: ReturnType<typeof aboutMode>,
  out: RateIntegral,
): void {
  const s = Math.abs(signedSpread);
  const perSquare = 1 / (s * s);
  let b = q / p;
  let off = Math.log(b) - location;
  let curvature = p;
  for (let step = 0; step < 8; step++) {
    const u = 1 + off * perSquare;
    curvature = p + (perSquare - u) / (b * b);
    const move = (q - p * b - u / b) / curvature;
    const share = move / b;
    b += move;
    // The points need their middle near the mode only.
    off = Math.abs(share) < 0.05 ? off + share * (1 - share * (0.5 - share / 3)) : Math.log(b) - location;
    if (Math.abs(share) < 1e-4) break;
  }
  const width = 1 / Math.sqrt(curvature);
  const top = q * b - 0.5 * p * b * b - off - 0.5 * off * off * perSquare;
  let sum = 0;
  let first = 0;
  let second = 0;
  let z1 = 0;
  let z2 = 0;
  for (let k = 0; k < points; k++) {
    const at = b + width * nodes[k]!;
    const distance = Math.log(at) - location;
    const log = at * (q - 0.5 * p * at) - distance * (1 + 0.5 * distance * perSquare);
    const weight = weights[k]! * Math.exp(log - top);
    const byRate = weight * at;
    const byDistance = weight * distance;
    sum += weight;
    first += byRate;
    second += byRate * at;
    z1 += byDistance;
    z2 += byDistance * distance;
  }
  // 1/b of the density: log b is off + location.
  out.log = Math.log((width * sum) / s) + top - location;
  out.mean = first / sum;
  out.square = second / sum;
  out.byLocation = (z1 / sum) * perSquare;
  const bySpread = ((z2 / sum) * perSquare - 1) / s;
  out.bySpread = signedSpread < 0 ? -bySpread : bySpread;
}

/** In z, about the mode: points in pairs on either side of it, whose rates are the mode's times and over one factor. */
function overSpread(p: number, q: number, location: number, spread: number, out: RateIntegral): void {
  const { nodes, weights } = many;
  const { at, rate: middle, width } = lognormalMode(p, q, location, spread);
  const top = middle * (q - 0.5 * p * middle) - 0.5 * at * at;
  const half = (RATE_POINTS - 1) / 2;
  // The middle point.
  let sum = weights[half]!;
  let mean = sum * middle;
  let square = mean * middle;
  let z1 = mean * at;
  let z2 = square * at;
  for (let k = 0; k < half; k++) {
    const step = width * nodes[k]!;
    const factor = Math.exp(spread * step);
    let z = at + step;
    let b = middle * factor;
    for (let side = 0; side < 2; side++) {
      const weight = weights[k]! * Math.exp(b * (q - 0.5 * p * b) - 0.5 * z * z - top);
      const byRate = weight * b;
      const bySquare = byRate * b;
      sum += weight;
      mean += byRate;
      square += bySquare;
      z1 += byRate * z;
      z2 += bySquare * z;
      z = at - step;
      b = middle / factor;
    }
  }
  out.log = Math.log(width * sum) + top;
  out.mean = mean / sum;
  out.square = square / sum;
  out.byLocation = (q * mean - p * square) / sum;
  out.bySpread = (q * z1 - p * z2) / sum;
}

/** Mode in z of q·b − ½p·b² − ½z², the rate there, and the width in z of the normal that fits its curvature. */
export function lognormalMode(
  p: number,
  q: number,
  location: number,
  spread: number,
): { at: number; rate: number; width: number } {
  const best = q / p;
  const information = p * best * best;
  let z = 0;
  if (best > 0) {
    z = (spread * information * (Math.log(best) - location)) / (1 + spread * spread * information);
  }
  let b = Math.exp(location + spread * z);
  for (let step = 0; step < 50; step++) {
    const slope = spread * b * (q - p * b) - z;
    const convex = spread * spread * b * (2 * p * b - q) + 1;
    const safe = spread * spread * p * b * b + 1;
    const move = slope / (convex > 0.3 * safe ? convex : safe);
    const limited = Math.max(-2, Math.min(2, move));
    z += limited;
    b = Math.exp(location + spread * z);
    // Newton's next step would be the square of this one.
    if (Math.abs(limited) < 1e-5) break;
  }
  const curvature = spread * spread * b * (2 * p * b - q) + 1;
  return { at: z, rate: b, width: 1 / Math.sqrt(Math.max(0.25, curvature)) };
}
