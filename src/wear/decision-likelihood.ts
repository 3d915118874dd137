/**
 * The marginal likelihood that decisions rest on: rates positive by construction, survivors weighed as survivors.
 *
 * Given its rate b, a component's readings are normal, and with its offset u integrated out their log-likelihood is
 *   −(n/2)·log 2π − n·log σ − ½·log A − ½(P·b² − 2·Q·b + C),      A = 1 + n·r²,  r = interceptSd/σ,
 *   P = Shh/σ² + n·h̄²/(σ²A),  Q = Shw/σ² + n·h̄(w̄ − a)/(σ²A),  C = Sww/σ² + n(w̄ − a)²/(σ²A),
 * so that only Gaussian integrals in b are left: closed for normal rates above zero, by adaptive Gauss-Hermite
 * quadrature about the mode for lognormal ones. A component that entered late, at L hours, is divided by its chance of
 * a reading below R at L. The search is over θ = (a, r, log σ, location, spread): r and spread are signed and the
 * likelihood is even in them, so that a zero spread is an ordinary optimum.
 * Gradients by Fisher's identity (Louis 1982, J. R. Stat. Soc. B 44, 226-233): posterior means of the complete score.
 */
import { logStandardNormalCdf, standardNormalCdf } from "../math/distributions.ts";
import { normalQuadrature } from "../math/gauss-hermite.ts";
import type { ComponentSums } from "./component-sums.ts";
import type { RateFamily, RateParameters } from "./rate-families.ts";

/** What the decision fit sees of a group. Arrays are by component, in the order of `sums`. */
export interface DecisionData {
  readonly sums: ComponentSums;
  /** Hours of the last look before the records began; 0 where the component was followed from new. */
  readonly entryHours: Float64Array;
  /** Aircraft number, for dependence; −1 where a component stands alone. */
  readonly aircraft: Int32Array;
  readonly replaceAtMm: number;
}

export const PARAMETERS = 5;
const RATE_POINTS = 17;
const ENTRY_POINTS = 7;
const LOG_2PI = Math.log(2 * Math.PI);

/** θ as named parameters. */
export const parametersOf = (family: RateFamily, theta: ArrayLike<number>): RateParameters => {
  const measurementSdMm = Math.exp(theta[2]!);
  return {
    family,
    interceptMm: theta[0]!,
    interceptSdMm: Math.abs(theta[1]!) * measurementSdMm,
    measurementSdMm,
    location: theta[3]!,
    spread: Math.abs(theta[4]!),
  };
};

export interface DecisionLikelihood {
  readonly family: RateFamily;
  /** Log-likelihood at θ; −Infinity where θ is impossible. */
  value(theta: ArrayLike<number>): number;
  /** Gradient of the log-likelihood. */
  gradient(theta: ArrayLike<number>): Float64Array;
  /** Gradient of each component's own term, components × 5. */
  scores(theta: ArrayLike<number>): Float64Array;
}

/** The likelihood of a group for one family of rates. */
export function decisionLikelihood(data: DecisionData, family: RateFamily): DecisionLikelihood {
  const columns = inThousands(data);
  const rates = family === "lognormal" ? lognormalTerm : normalTerm;
  const run = (theta: ArrayLike<number>, scores: Float64Array | null): number => {
    const sigma = Math.exp(theta[2]!);
    if (!(sigma > 1e-12) || !(sigma < 1e12)) return Number.NEGATIVE_INFINITY;
    const work: Work = { family, theta, sigma, score: scores === null ? null : new Float64Array(PARAMETERS) };
    let total = 0;
    for (let i = 0; i < columns.components; i++) {
      work.score?.fill(0);
      total += componentTerm(columns, i, work, rates);
      if (columns.entry[i]! > 0) total -= entryTerm(columns, i, work);
      if (scores !== null) scores.set(work.score!, i * PARAMETERS);
    }
    return Number.isNaN(total) ? Number.NEGATIVE_INFINITY : total;
  };
  const scores = (theta: ArrayLike<number>) => {
    const all = new Float64Array(columns.components * PARAMETERS);
    run(theta, all);
    return all;
  };
  return {
    family,
    value: (theta) => run(theta, null),
    scores,
    gradient: (theta) => {
      const sum = new Float64Array(PARAMETERS);
      const all = scores(theta);
      for (let k = 0; k < all.length; k++) sum[k % PARAMETERS]! += all[k]!;
      return sum;
    },
  };
}

/** The sums with hours in thousands, so that rates are mm per 1000 h throughout. */
interface Columns {
  readonly components: number;
  readonly n: Float64Array;
  readonly h: Float64Array;
  readonly w: Float64Array;
  readonly hh: Float64Array;
  readonly hw: Float64Array;
  readonly ww: Float64Array;
  readonly entry: Float64Array;
  readonly replaceAtMm: number;
}

function inThousands({ sums, entryHours, replaceAtMm }: DecisionData): Columns {
  return {
    components: sums.components,
    n: sums.count,
    h: sums.meanHours.map((hours) => hours / 1000),
    w: sums.meanWearMm,
    hh: sums.hoursSquared.map((squares) => squares / 1e6),
    hw: sums.hoursWear.map((products) => products / 1000),
    ww: sums.wearSquared,
    entry: entryHours.map((hours) => hours / 1000),
    replaceAtMm,
  };
}

interface Work {
  readonly family: RateFamily;
  readonly theta: ArrayLike<number>;
  readonly sigma: number;
  /** The component's score, filled when asked for. */
  readonly score: Float64Array | null;
}

/** log ∫ exp(Q·b − ½P·b²) f(b) db, and what the score needs: E b, E b², d/d location, d/d spread. */
interface RateIntegral {
  log: number;
  mean: number;
  square: number;
  byLocation: number;
  bySpread: number;
}

type RateTerm = (p: number, q: number, location: number, spread: number, out: RateIntegral) => void;

const integral: RateIntegral = { log: 0, mean: 0, square: 0, byLocation: 0, bySpread: 0 };

function componentTerm(columns: Columns, i: number, work: Work, rates: RateTerm): number {
  const { theta, sigma, score } = work;
  const n = columns.n[i]!;
  const h = columns.h[i]!;
  const ratio = theta[1]!;
  const inverse = 1 / (sigma * sigma);
  const a = 1 + n * ratio * ratio;
  const meanWeight = (n * inverse) / a;
  const residual = columns.w[i]! - theta[0]!;
  const p = columns.hh[i]! * inverse + meanWeight * h * h;
  const q = columns.hw[i]! * inverse + meanWeight * h * residual;
  const c = columns.ww[i]! * inverse + meanWeight * residual * residual;
  rates(p, q, theta[3]!, theta[4]!, integral);
  if (score !== null) {
    const { mean, square } = integral;
    // Posterior means of (w̄ − a − b·h̄) and its square, and of the scatter about the component's line.
    const off = residual - mean * h;
    const offSquare = residual * residual - 2 * residual * h * mean + h * h * square;
    const within = columns.ww[i]! - 2 * columns.hw[i]! * mean + columns.hh[i]! * square;
    score[0] = meanWeight * off;
    score[1] = (-n * ratio) / a + (meanWeight * n * ratio * offSquare) / a;
    score[2] = -n + within * inverse + meanWeight * offSquare;
    score[3] = integral.byLocation;
    score[4] = integral.bySpread;
  }
  return -0.5 * n * LOG_2PI - n * Math.log(sigma) - 0.5 * Math.log(a) - 0.5 * c + integral.log;
}

/** Normal rates given above zero: all in closed form, written so that nothing cancels when the spread is small. */
function normalTerm(p: number, q: number, location: number, signedSpread: number, out: RateIntegral): void {
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
function lognormalTerm(p: number, q: number, location: number, spread: number, out: RateIntegral): void {
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
function lognormalMode(
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

/** F(c), f(c) and dF/d location, dF/d spread at a rate c > 0. */
interface RateAt {
  below: number;
  density: number;
  byLocation: number;
  bySpread: number;
}

const rateAt: RateAt = { below: 0, density: 0, byLocation: 0, bySpread: 0 };

/** log P(reading at entry < R), its gradient subtracted from the score. */
function entryTerm(columns: Columns, i: number, work: Work): number {
  const { theta, sigma, score } = work;
  const hours = columns.entry[i]!;
  const ratio = theta[1]!;
  const omega = sigma * Math.sqrt(1 + ratio * ratio);
  const room = columns.replaceAtMm - theta[0]!;
  const at = rateSpreadAt(work.family, theta) * hours < omega ? chanceOverRates : chanceOverScatter;
  at(work.family, theta, hours, room, omega, entryChance);
  const { below, byRoom, byOmega } = entryChance;
  if (score !== null) {
    score[0]! += byRoom / below;
    score[1]! -= (byOmega * sigma * sigma * ratio) / omega / below;
    score[2]! -= (byOmega * omega) / below;
    score[3]! -= entryChance.byLocation / below;
    score[4]! -= entryChance.bySpread / below;
  }
  return Math.log(below);
}

/** P(intercept's room not used up at the entry look), and its derivatives. */
interface EntryChance {
  below: number;
  byRoom: number;
  byOmega: number;
  byLocation: number;
  bySpread: number;
}

const entryChance: EntryChance = { below: 0, byRoom: 0, byOmega: 0, byLocation: 0, bySpread: 0 };

type ChanceAtEntry = (
  family: RateFamily,
  theta: ArrayLike<number>,
  hours: number,
  room: number,
  omega: number,
  out: EntryChance,
) => void;

/** Spread of the rates in mm per 1000 h, roughly; infinite where normal rates are cut at zero. */
function rateSpreadAt(family: RateFamily, theta: ArrayLike<number>): number {
  const spread = Math.abs(theta[4]!);
  if (family === "lognormal") return Math.exp(theta[3]!) * spread;
  return theta[3]! > 8 * spread ? spread : Number.POSITIVE_INFINITY;
}

/** Averaged over the rates: where they differ less than readings scatter. */
const chanceOverRates: ChanceAtEntry = (family, theta, hours, room, omega, out) => {
  const { nodes, weights } = normalQuadrature(ENTRY_POINTS);
  out.below = out.byRoom = out.byOmega = out.byLocation = out.bySpread = 0;
  for (let k = 0; k < ENTRY_POINTS; k++) {
    const z = nodes[k]!;
    const exponent = theta[3]! + theta[4]! * z;
    const rate = family === "lognormal" ? Math.exp(exponent) : exponent;
    const t = (room - rate * hours) / omega;
    const phi = (weights[k]! * density(t)) / omega;
    const byExponent = -phi * hours * (family === "lognormal" ? rate : 1);
    out.below += weights[k]! * standardNormalCdf(t);
    out.byRoom += phi;
    out.byOmega -= phi * t;
    out.byLocation += byExponent;
    out.bySpread += byExponent * z;
  }
};

/** Averaged over the scatter: where it is narrower than the rates' spread. */
const chanceOverScatter: ChanceAtEntry = (family, theta, hours, room, omega, out) => {
  const { nodes, weights } = normalQuadrature(ENTRY_POINTS);
  const entry = family === "lognormal" ? lognormalEntry : normalEntry;
  out.below = out.byRoom = out.byOmega = out.byLocation = out.bySpread = 0;
  for (let k = 0; k < ENTRY_POINTS; k++) {
    const rate = (room - omega * nodes[k]!) / hours;
    if (!(rate > 0)) continue;
    const weight = weights[k]!;
    entry(rate, theta[3]!, theta[4]!, rateAt);
    out.below += weight * rateAt.below;
    out.byRoom += (weight * rateAt.density) / hours;
    out.byOmega -= (weight * nodes[k]! * rateAt.density) / hours;
    out.byLocation += weight * rateAt.byLocation;
    out.bySpread += weight * rateAt.bySpread;
  }
};

const density = (z: number): number => Math.exp(-0.5 * z * z - 0.5 * LOG_2PI);

function lognormalEntry(rate: number, location: number, signedSpread: number, out: RateAt): void {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const z = (Math.log(rate) - location) / s;
  const phi = density(z) / s;
  out.below = standardNormalCdf(z);
  out.density = phi / rate;
  out.byLocation = -phi;
  out.bySpread = signedSpread < 0 ? phi * z : -phi * z;
}

function normalEntry(rate: number, location: number, signedSpread: number, out: RateAt): void {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const z = (rate - location) / s;
  const k = location / s;
  const whole = standardNormalCdf(k);
  const above = standardNormalCdf(-z) / whole;
  const phi = density(z) / s / whole;
  const phiPrior = density(k) / s / whole;
  out.below = 1 - above;
  out.density = phi;
  out.byLocation = -phi + above * phiPrior;
  const bySpread = -phi * z - above * phiPrior * k;
  out.bySpread = signedSpread < 0 ? -bySpread : bySpread;
}
