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
import type { LifeTable } from "../records/life-table.ts";

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

export interface WeibullLikelihood {
  /** Log hours at which alpha is the log cumulative hazard. */
  readonly centre: number;
  /** Weighted numbers of lives, and of events of each kind. */
  readonly lives: number;
  readonly exact: number;
  readonly intervals: number;
  readonly distinctExactTimes: number;
  /** True where any life came under observation after hour 0: then concavity is not guaranteed. */
  readonly lateEntry: boolean;
  /** Spread (standard deviation) of the log hours of the events; 0 where all are at one place. */
  readonly logSpread: number;
  /** Sum of the exact events' log hours, less the centre. */
  readonly sumLogExact: number;
  /** Distinct times, as log hours less the centre, and the net weight of H there (survived: minus; entered: plus). */
  readonly hazardLog: Float64Array;
  readonly hazardWeight: Float64Array;
  /** Distinct intervals: log of the two ends less the centre (minus infinity for 0) and how many lives. */
  readonly intervalLowLog: Float64Array;
  readonly intervalHighLog: Float64Array;
  readonly intervalWeight: Float64Array;
}

/**
 * Prepares a table: checks it, merges equal terms and centres the log hours.
 *
 * @throws RangeError where a row can't be an observation of a life (a bug of the caller: tables are checked on reading)
 */
export function weibullLikelihood(table: LifeTable): WeibullLikelihood {
  const hazard = new Map<number, number>();
  const intervals = new Map<number, Map<number, number>>();
  const exactTimes = new Map<number, number>();
  const totals = { lives: 0, exact: 0, intervals: 0, late: false };
  for (let i = 0; i < table.rows; i++) {
    const entry = table.entryHours[i]!;
    const lower = table.lowerHours[i]!;
    const upper = table.upperHours[i]!;
    const count = table.count[i]!;
    checkRow(entry, lower, upper, count, i);
    if (count === 0) continue;
    totals.lives += count;
    if (entry > 0) totals.late = true;
    add(hazard, entry, count);
    add(hazard, lower, -count);
    if (upper === Number.POSITIVE_INFINITY) continue;
    if (lower === upper) {
      totals.exact += count;
      add(exactTimes, lower, count);
      continue;
    }
    totals.intervals += count;
    const byUpper = intervals.get(lower) ?? new Map<number, number>();
    intervals.set(lower, byUpper);
    add(byUpper, upper, count);
  }
  return assemble(hazard, intervals, exactTimes, totals);
}

function assemble(
  hazard: Map<number, number>,
  intervals: Map<number, Map<number, number>>,
  exactTimes: Map<number, number>,
  totals: { lives: number; exact: number; intervals: number; late: boolean },
): WeibullLikelihood {
  // Hour 0 has no cumulative hazard; a weight that cancelled (entry = last good look) needs no term.
  const times = [...hazard].filter(([hours, weight]) => hours > 0 && weight !== 0);
  const pairs = [...intervals].flatMap(([low, by]) =>
    [...by].map(([high, weight]) => ({ low, high, weight })),
  );
  const places = [
    ...[...exactTimes].map(([hours, weight]) => ({ log: Math.log(hours), weight })),
    ...pairs.map(({ low, high, weight }) => ({ log: Math.log(low + (high - low) / 2), weight })),
  ];
  const weight = places.reduce((sum, place) => sum + place.weight, 0);
  const centre =
    weight > 0
      ? places.reduce((sum, place) => sum + place.weight * place.log, 0) / weight
      : times.reduce((most, [hours]) => Math.max(most, Math.log(hours)), Number.NEGATIVE_INFINITY);
  const variance = places.reduce((sum, place) => sum + place.weight * (place.log - centre) ** 2, 0);
  return {
    centre: Number.isFinite(centre) ? centre : 0,
    lives: totals.lives,
    exact: totals.exact,
    intervals: totals.intervals,
    distinctExactTimes: exactTimes.size,
    lateEntry: totals.late,
    logSpread: weight > 0 ? Math.sqrt(variance / weight) : 0,
    sumLogExact: [...exactTimes].reduce((sum, [hours, count]) => sum + count * (Math.log(hours) - centre), 0),
    hazardLog: Float64Array.from(times, ([hours]) => Math.log(hours) - centre),
    hazardWeight: Float64Array.from(times, ([, w]) => w),
    intervalLowLog: Float64Array.from(pairs, ({ low }) =>
      low > 0 ? Math.log(low) - centre : Number.NEGATIVE_INFINITY,
    ),
    intervalHighLog: Float64Array.from(pairs, ({ high }) => Math.log(high) - centre),
    intervalWeight: Float64Array.from(pairs, (pair) => pair.weight),
  };
}

/** The log-likelihood alone; minus infinity where beta is not above 0. In hours, so it compares with R's. */
export function logLikelihoodAt(data: WeibullLikelihood, alpha: number, beta: number): number {
  if (!(beta > 0)) return Number.NEGATIVE_INFINITY;
  let sum = exactPart(data, alpha, beta);
  for (let k = 0; k < data.hazardLog.length; k++) {
    sum += data.hazardWeight[k]! * Math.exp(alpha + beta * data.hazardLog[k]!);
  }
  for (let k = 0; k < data.intervalWeight.length; k++) {
    const weight = data.intervalWeight[k]!;
    if (weight === 0) continue;
    const low = data.intervalLowLog[k]!;
    sum += weight * intervalLog(logIncrement(alpha, beta, low, data.intervalHighLog[k]!));
  }
  return Number.isNaN(sum) ? Number.NEGATIVE_INFINITY : sum;
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
  for (let k = 0; k < data.hazardLog.length; k++) {
    const l = data.hazardLog[k]!;
    const h = data.hazardWeight[k]! * Math.exp(alpha + beta * l);
    at.value += h;
    at.gradAlpha += h;
    at.gradBeta += h * l;
    at.hessAlphaAlpha += h;
    at.hessAlphaBeta += h * l;
    at.hessBetaBeta += h * l * l;
  }
  for (let k = 0; k < data.intervalWeight.length; k++) addInterval(data, k, alpha, beta, at);
  return at;
}

/**
 * One distinct interval. D = H(b) - H(a), g = log(1 - exp(-D)); derivatives of D are taken relative to D itself, so that
 * nothing is lost when D underflows, and r = D/(e^D - 1) carries g' = 1/(e^D - 1).
 */
function addInterval(
  data: WeibullLikelihood,
  k: number,
  alpha: number,
  beta: number,
  at: LikelihoodAt,
): void {
  const weight = data.intervalWeight[k]!;
  if (weight === 0) return;
  const low = data.intervalLowLog[k]!;
  const high = data.intervalHighLog[k]!;
  const logD = logIncrement(alpha, beta, low, high);
  at.value += weight * intervalLog(logD);
  const d = Math.exp(logD);
  const r = d > 700 ? 0 : d === 0 ? 1 : d / Math.expm1(d);
  let byBeta = high;
  let byBetaTwice = high * high;
  if (low !== Number.NEGATIVE_INFINITY) {
    const width = high - low;
    const lift = width / -Math.expm1(-beta * width);
    byBeta = low + lift;
    byBetaTwice = low * low + (low + high) * lift;
  }
  const bend = d > 700 ? 0 : r * r + r * d;
  at.gradAlpha += weight * r;
  at.gradBeta += weight * r * byBeta;
  at.hessAlphaAlpha += weight * (r - bend);
  at.hessAlphaBeta += weight * (r - bend) * byBeta;
  at.hessBetaBeta += weight * (r * byBetaTwice - bend * byBeta * byBeta);
}

/** Value and derivatives by alpha, the shape being fixed. */
export interface SlicePoint {
  readonly value: number;
  readonly grad: number;
  readonly hess: number;
}

/**
 * The log-likelihood along alpha at one shape: all running, exact and entry terms collapse to one number times
 * exp(alpha), so that only distinct intervals are gone through at each point.
 */
export function likelihoodSlice(data: WeibullLikelihood, beta: number): (alpha: number) => SlicePoint {
  let hazard = 0;
  for (let k = 0; k < data.hazardLog.length; k++) {
    hazard += data.hazardWeight[k]! * Math.exp(beta * data.hazardLog[k]!);
  }
  const intervals = data.intervalWeight.length;
  const logWidth = new Float64Array(intervals);
  for (let k = 0; k < intervals; k++) {
    logWidth[k] = logIncrement(0, beta, data.intervalLowLog[k]!, data.intervalHighLog[k]!);
  }
  return (alpha) => {
    const h = hazard * Math.exp(alpha);
    let value = exactPart(data, alpha, beta) + h;
    let grad = data.exact + h;
    let hess = h;
    for (let k = 0; k < intervals; k++) {
      const weight = data.intervalWeight[k]!;
      const logD = alpha + logWidth[k]!;
      const d = Math.exp(logD);
      const r = d > 700 ? 0 : d === 0 ? 1 : d / Math.expm1(d);
      value += weight * intervalLog(logD);
      grad += weight * r;
      hess += weight * (d > 700 ? 0 : r - r * r - r * d);
    }
    return { value: Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value, grad, hess };
  };
}

/** Log of H(b) - H(a), from logs of the ends; a may be minus infinity. */
function logIncrement(alpha: number, beta: number, low: number, high: number): number {
  if (low === Number.NEGATIVE_INFINITY) return alpha + beta * high;
  return alpha + beta * high + Math.log(-Math.expm1(-beta * (high - low)));
}

/** log(1 - exp(-D)) from log D. */
function intervalLog(logD: number): number {
  if (logD < -18) return logD - Math.exp(logD) / 2;
  const d = Math.exp(logD);
  return d < Math.LN2 ? Math.log(-Math.expm1(-d)) : Math.log1p(-Math.exp(-d));
}

function exactPart(data: WeibullLikelihood, alpha: number, beta: number): number {
  if (data.exact === 0) return 0;
  // log f(t) = log beta + alpha + beta l - log t - H(t); the last is among the hazard terms.
  const sumLogHours = data.sumLogExact + data.exact * data.centre;
  return data.exact * (Math.log(beta) + alpha) + beta * data.sumLogExact - sumLogHours;
}

function add(map: Map<number, number>, key: number, value: number): void {
  map.set(key, (map.get(key) ?? 0) + value);
}

function checkRow(entry: number, lower: number, upper: number, count: number, row: number): void {
  const sound =
    entry >= 0 &&
    lower >= entry &&
    upper >= lower &&
    upper > 0 &&
    lower < Infinity &&
    count >= 0 &&
    count < Infinity;
  if (!sound) {
    throw new RangeError(
      `life table row ${row}: expected 0 <= entry <= lower <= upper and a count, got ${entry}, ${lower}, ${upper}, ${count}`,
    );
  }
}
