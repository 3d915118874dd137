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
 * Events known by an interval. D = H(b) - H(a), g = log(1 - exp(-D)); derivatives of D are taken relative to D itself, so
 * that nothing is lost when D underflows, and r = D/(e^D - 1) carries g' = 1/(e^D - 1). Logs are taken of products of
 * chances, many lives at a time.
 */
function addIntervals(data: WeibullLikelihood, alpha: number, beta: number, at: LikelihoodAt): void {
  const { intervalLowLog, intervalHighLog, intervalWeight } = data;
  let [value, product] = [0, 1];
  let [gradAlpha, gradBeta, hessAlphaAlpha, hessAlphaBeta, hessBetaBeta] = [0, 0, 0, 0, 0];
  for (let k = 0; k < intervalWeight.length; k++) {
    const weight = intervalWeight[k]!;
    const low = intervalLowLog[k]!;
    const high = intervalHighLog[k]!;
    const width = high - low;
    let d: number;
    let byBeta = high;
    let byBetaTwice = high * high;
    if (beta * width > FAR) d = Math.exp(alpha + beta * high);
    else {
      const growth = Math.expm1(beta * width);
      const lift = width + width / growth;
      d = Math.exp(alpha + beta * low) * growth;
      byBeta = low + lift;
      byBetaTwice = low * low + (low + high) * lift;
    }
    // Such an event was certain: it adds nothing.
    if (d >= MOST) continue;
    let r = 1 - d / 2;
    if (d > LEAST) {
      const missed = Math.expm1(-d);
      r = (-d * (1 + missed)) / missed;
      if (weight === 1) product *= -missed;
      else value += weight * Math.log(-missed);
      if (product < FULL) {
        value += Math.log(product);
        product = 1;
      }
    } else value += weight * (logIncrement(alpha, beta, low, high) - d / 2);
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

/** Above this log ratio the hazard at an interval's low end is nothing beside that at its high end. */
const FAR = 600;
/** Logs of products of chances are taken before these underflow. */
const FULL = 1e-250;
/** Below, log(1 - exp(-D)) is log D - D/2 to all digits, and D itself may underflow; above the other, it is 0. */
const LEAST = 1.5e-8;
const MOST = 700;

/** Value and derivatives by alpha, the shape being fixed. */
export interface SlicePoint {
  readonly value: number;
  readonly grad: number;
  readonly hess: number;
}

/**
 * The log-likelihood along alpha at one shape: all running, exact and entry terms collapse to one number times
 * exp(alpha), so that only distinct intervals are gone through at each point, each with one exponential.
 *
 * @param near  about where on the slice it is asked, so that the widths taken there are of a sensible size
 */
export function likelihoodSlice(
  data: WeibullLikelihood,
  beta: number,
  near: number,
): (alpha: number) => SlicePoint {
  const { intervalLowLog, intervalHighLog, intervalWeight } = data;
  let hazard = 0;
  for (let k = 0; k < data.hazardLog.length; k++) {
    hazard += data.hazardWeight[k]! * Math.exp(beta * data.hazardLog[k]!);
  }
  const intervals = intervalWeight.length;
  const widths = new Float64Array(intervals);
  for (let k = 0; k < intervals; k++)
    widths[k] = Math.exp(logIncrement(near, beta, intervalLowLog[k]!, intervalHighLog[k]!));
  return (alpha) => {
    const h = hazard * Math.exp(alpha);
    const factor = Math.exp(alpha - near);
    let [value, product, grad, hess] = [exactPart(data, alpha, beta) + h, 1, data.exact + h, h];
    for (let k = 0; k < intervals; k++) {
      const weight = intervalWeight[k]!;
      let d = factor * widths[k]!;
      let r: number;
      if (d > LEAST && d < MOST) {
        const missed = Math.expm1(-d);
        r = (-d * (1 + missed)) / missed;
        if (weight === 1) product *= -missed;
        else value += weight * Math.log(-missed);
        if (product < FULL) {
          value += Math.log(product);
          product = 1;
        }
      } else {
        // Taken anew by its logarithm: the width may have been beyond the least or the greatest number.
        const logD = logIncrement(alpha, beta, intervalLowLog[k]!, intervalHighLog[k]!);
        d = Math.exp(logD);
        if (d >= MOST) continue;
        value += weight * intervalLog(logD, d);
        r = d === 0 ? 1 : d / Math.expm1(d);
      }
      grad += weight * r;
      hess += weight * (r - r * r - r * d);
    }
    value += Math.log(product);
    return { value: Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value, grad, hess };
  };
}

/** Log of H(b) - H(a), from logs of the ends; a may be minus infinity. */
function logIncrement(alpha: number, beta: number, low: number, high: number): number {
  if (low === Number.NEGATIVE_INFINITY) return alpha + beta * high;
  return alpha + beta * high + Math.log(-Math.expm1(-beta * (high - low)));
}

/** log(1 - exp(-D)) from log D and D. */
const intervalLog = (logD: number, d: number): number =>
  d < LEAST ? logD - d / 2 : Math.log(-Math.expm1(-d));

function exactPart(data: WeibullLikelihood, alpha: number, beta: number): number {
  if (data.exact === 0) return 0;
  // log f(t) = log beta + alpha + beta l - log t - H(t); the last is among the hazard terms.
  const sumLogHours = data.sumLogExact + data.exact * data.centre;
  return data.exact * (Math.log(beta) + alpha) + beta * data.sumLogExact - sumLogHours;
}
