/** The Weibull log-likelihood at one shape, along alpha: what the outlines of likelihood regions are walked by. */
import type { WeibullLikelihood } from "./likelihood-terms.ts";
import { exactPart, FAR, FULL, LEAST, logIncrement, MOST } from "./weibull-likelihood.ts";

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
  const { intervalLowLog, intervalHighLog, intervalWeight, intervalSurvived } = data;
  let hazard = 0;
  for (let k = 0; k < data.hazardLog.length; k++) {
    hazard += data.hazardWeight[k]! * Math.exp(near + beta * data.hazardLog[k]!);
  }
  const intervals = intervalWeight.length;
  const widths = new Float64Array(intervals);
  for (let k = 0; k < intervals; k++) {
    const low = intervalLowLog[k]!;
    const high = intervalHighLog[k]!;
    const before = Math.exp(near + beta * low);
    if (intervalSurvived[k]! > 0) hazard -= intervalSurvived[k]! * before;
    const rise = beta * (high - low);
    widths[k] = rise > FAR ? Math.exp(near + beta * high) : before * Math.expm1(rise);
  }
  return (alpha) => {
    const factor = Math.exp(alpha - near);
    const h = hazard * factor;
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

/** log(1 - exp(-D)) from log D and D. */
const intervalLog = (logD: number, d: number): number =>
  d < LEAST ? logD - d / 2 : Math.log(-Math.expm1(-d));
