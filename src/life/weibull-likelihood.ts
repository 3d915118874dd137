/**
 * Log-likelihood of a Weibull life for a life table, with first and second derivatives.
 *
 * S(t) = exp(-H(t)), H(t) = (t/scale)^shape. Each life adds log f(t) (exact), log S(a) (running at a) or
 * log(S(a) - S(b)) (in (a, b]), less log S(entry).
 *
 * Inside, with l = log t - centre, H = exp(alpha + beta l): beta is the shape and alpha = shape (centre - log scale) the
 * log cumulative hazard at the centre of the data. Without late entry the log-likelihood is concave in (alpha, beta),
 * which is why the search is done there (Burridge 1981, JRSS B 43, 41-45), and hours of any size cause no overflow.
 */
import type { WeibullLikelihood } from "./likelihood-terms.ts";

/** Value and derivatives at one point. */
export interface LikelihoodAt {
  value: number;
  /** First derivatives by alpha and beta. */
  gradAlpha: number;
  gradBeta: number;
  /** Second derivatives. */
  hessAlphaAlpha: number;
  hessAlphaBeta: number;
  hessBetaBeta: number;
}

/** The log-likelihood alone; minus infinity where beta is not above 0. In hours, so it compares with R's. */
export function logLikelihoodAt(data: WeibullLikelihood, alpha: number, beta: number): number {
  if (!(beta > 0)) return Number.NEGATIVE_INFINITY;
  const { value } = likelihoodAt(data, alpha, beta);
  return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
}

/** Value, gradient and Hessian by (alpha, beta). */
export function likelihoodAt(data: WeibullLikelihood, alpha: number, beta: number): LikelihoodAt {
  const at: LikelihoodAt = {
    value: exactPart(data, alpha, beta),
    gradAlpha: data.exact,
    gradBeta: data.exact / beta + data.sumLogExact,
    hessAlphaAlpha: 0,
    hessAlphaBeta: 0,
    hessBetaBeta: -data.exact / (beta * beta),
  };
  addHazards(data, alpha, beta, at);
  addIntervals(data, alpha, beta, at);
  return at;
}

function addHazards(data: WeibullLikelihood, alpha: number, beta: number, at: LikelihoodAt): void {
  const { hazardLog, hazardWeight } = data;
  let sum = 0;
  let sumLog = 0;
  let sumSquare = 0;
  for (let k = 0; k < hazardLog.length; k++) {
    const l = hazardLog[k]!;
    const h = hazardWeight[k]! * Math.exp(alpha + beta * l);
    sum += h;
    sumLog += h * l;
    sumSquare += h * l * l;
  }
  at.value += sum;
  at.gradAlpha += sum;
  at.gradBeta += sumLog;
  at.hessAlphaAlpha += sum;
  at.hessAlphaBeta += sumLog;
  at.hessBetaBeta += sumSquare;
}

/**
 * Events known by an interval, and what was survived before it. D = H(b) - H(a), g = log(1 - exp(-D)); derivatives of D are
 * taken relative to D itself, so that nothing is lost when D underflows, and r = D/(e^D - 1) carries g' = 1/(e^D - 1). Logs
 * are taken of products of chances, many lives at a time.
 */
function addIntervals(data: WeibullLikelihood, alpha: number, beta: number, at: LikelihoodAt): void {
  const { intervalLowLog, intervalHighLog, intervalWeight } = data;
  const intervals = intervalWeight.length;
  if (intervals === 0) return;
  // All exponentials come before the sums, in loops of their own: one loop for everything takes twice as long.
  const { increments, slopes, chances } = incrementsAt(data, alpha, beta, at);
  let value = 0;
  let product = 1;
  let gradAlpha = 0;
  let gradBeta = 0;
  let hessAlphaAlpha = 0;
  let hessAlphaBeta = 0;
  let hessBetaBeta = 0;
  for (let k = 0; k < intervals; k++) {
    const weight = intervalWeight[k]!;
    const d = increments[k]!;
    // Such an event was certain: it adds nothing.
    if (d >= MOST) continue;
    let r = 1 - d / 2;
    if (d > LEAST) {
      const chance = chances[k]!;
      r = (d * (1 - chance)) / chance;
      if (weight === 1) product *= chance;
      else value += weight * Math.log(chance);
      if (product < FULL) {
        value += Math.log(product);
        product = 1;
      }
    } else value += weight * (logIncrement(alpha, beta, intervalLowLog[k]!, intervalHighLog[k]!) - d / 2);
    const low = intervalLowLog[k]!;
    const high = intervalHighLog[k]!;
    const byBeta = slopes[k]!;
    const byBetaTwice = byBeta === high ? high * high : low * low + (low + high) * (byBeta - low);
    const bend = r * r + r * d;
    gradAlpha += weight * r;
    gradBeta += weight * r * byBeta;
    hessAlphaAlpha += weight * (r - bend);
    hessAlphaBeta += weight * (r - bend) * byBeta;
    hessBetaBeta += weight * (r * byBetaTwice - bend * byBeta * byBeta);
  }
  at.value += value + Math.log(product);
  at.gradAlpha += gradAlpha;
  at.gradBeta += gradBeta;
  at.hessAlphaAlpha += hessAlphaAlpha;
  at.hessAlphaBeta += hessAlphaBeta;
  at.hessBetaBeta += hessBetaBeta;
}

/**
 * D of each interval, its derivative by beta over itself, and 1 - exp(-D); the hazards survived at low ends are added to `at`.
 * Good until it is asked for again.
 */
function incrementsAt(
  { intervalLowLog, intervalHighLog, intervalSurvived }: WeibullLikelihood,
  alpha: number,
  beta: number,
  at: LikelihoodAt,
): { increments: Float64Array; slopes: Float64Array; chances: Float64Array } {
  const intervals = intervalLowLog.length;
  if (room.length < 3 * intervals) room = new Float64Array(6 * intervals);
  const increments = room.subarray(0, intervals);
  const slopes = room.subarray(intervals, 2 * intervals);
  const chances = room.subarray(2 * intervals, 3 * intervals);
  let sum = 0;
  let sumLog = 0;
  let sumSquare = 0;
  for (let k = 0; k < intervals; k++) {
    const low = intervalLowLog[k]!;
    const high = intervalHighLog[k]!;
    const width = high - low;
    const hazard = Math.exp(alpha + beta * low);
    if (beta * width > FAR) {
      increments[k] = Math.exp(alpha + beta * high);
      slopes[k] = high;
    } else {
      const growth = Math.expm1(beta * width);
      increments[k] = hazard * growth;
      slopes[k] = low + width + width / growth;
    }
    if (intervalSurvived[k]! > 0) {
      const h = intervalSurvived[k]! * hazard;
      sum += h;
      sumLog += h * low;
      sumSquare += h * low * low;
    }
  }
  for (let k = 0; k < intervals; k++) chances[k] = -Math.expm1(-increments[k]!);
  at.value -= sum;
  at.gradAlpha -= sum;
  at.gradBeta -= sumLog;
  at.hessAlphaAlpha -= sum;
  at.hessAlphaBeta -= sumLog;
  at.hessBetaBeta -= sumSquare;
  return { increments, slopes, chances };
}

/** Kept from pass to pass: a search goes over the same intervals some hundred times. */
let room = new Float64Array(0);

/** Above this log ratio the hazard at an interval's low end is nothing beside that at its high end. */
export const FAR = 600;
/** Logs of products of chances are taken before these underflow. */
export const FULL = 1e-250;
/** Below, log(1 - exp(-D)) is log D - D/2 to all digits, and D itself may underflow; above the other, it is 0. */
export const LEAST = 1.5e-8;
export const MOST = 700;

/** Log of H(b) - H(a), from logs of the ends; a may be minus infinity. */
export function logIncrement(alpha: number, beta: number, low: number, high: number): number {
  if (low === Number.NEGATIVE_INFINITY) return alpha + beta * high;
  return alpha + beta * high + Math.log(-Math.expm1(-beta * (high - low)));
}

/** What exact events add to the log-likelihood, but for their hazards. */
export function exactPart(data: WeibullLikelihood, alpha: number, beta: number): number {
  if (data.exact === 0) return 0;
  // log f(t) = log beta + alpha + beta l - log t - H(t).
  const sumLogHours = data.sumLogExact + data.exact * data.centre;
  return data.exact * (Math.log(beta) + alpha) + beta * data.sumLogExact - sumLogHours;
}
