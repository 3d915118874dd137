/**
 * A tighter replace-at limit R′ that would make a longer interval hold. Replacing at R′ < R, a look finds a component
 * over R only if wear passed from below R′ to over R since the look before; the margin to the unsafe-at limit is U − R′;
 * and what is taken off between R′ and R is the price.
 *
 * From the wear line: lives know only the limit that they were removed at. Where the life line's share at R is worse
 * than the wear line's, the result is raised by as much.
 */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { normalCdfInSums, tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import {
  type RateParameters,
  readingSdMm,
  SMALLEST_SPREAD,
  survivalCurveBelow,
} from "../wear/rate-families.ts";
import type { RatePart } from "./rate-risk.ts";

const SCATTER_POINTS = 15;
/** Looks followed until this share is left, which is then taken to pass; where wear is slower, so many looks. */
const NEGLIGIBLE = 1e-3;
const MOST_LOOKS = 400;

/** The limit of the maintenance data, and a tighter one to replace at. */
export interface TighterLimits {
  readonly replaceAtMm: number;
  readonly tighterMm: number;
}

export interface TighterShare {
  /** Share of looks that find a component over the original limit: the worst over the first looks, or the long run. */
  readonly overLimit: number;
  /** Replacements at R′ or later per look, in the long run. */
  readonly replaced: number;
}

/**
 * @param below   chance of being below R′ at some hours
 * @param passes  chance of being below R′ at the first hours and at or over R at the second
 * @param spacingH  hours between looks, lateness included
 */
export function tighterShare(
  below: (hours: number) => number,
  passes: (beforeHours: number, hours: number) => number,
  spacingH: number,
  greatestAgeH: number,
): TighterShare {
  const looksObserved = Math.max(1, Math.floor(greatestAgeH / spacingH + 1e-9));
  let looks = 0;
  let finds = 0;
  let worst = 0;
  let left = 1;
  for (let k = 0; k < MOST_LOOKS && (k < looksObserved || left >= NEGLIGIBLE); k++) {
    looks += left;
    finds += passes(k * spacingH, (k + 1) * spacingH);
    if (k < looksObserved) worst = Math.max(worst, finds / looks);
    left = below((k + 1) * spacingH);
  }
  return { overLimit: Math.max(worst, (finds + left) / looks), replaced: 1 / looks };
}

/** The share for a distribution of rates, or a mixture of them. */
export function tighterShareOf(
  parts: readonly RatePart[],
  limits: TighterLimits,
  spacingH: number,
  greatestAgeH: number,
  onClock: (hours: number) => number,
): TighterShare {
  const curves = parts.map(({ share, parameters }) => ({
    share,
    below: survivalCurveBelow(parameters, limits.tighterMm),
    passes: passingOf(parameters, limits.tighterMm, limits.replaceAtMm),
  }));
  const mean = (of: (curve: (typeof curves)[number]) => number) =>
    curves.reduce((sum, curve) => sum + curve.share * of(curve), 0);
  return tighterShare(
    (hours) => mean(({ below }) => below(onClock(hours))),
    (before, hours) => mean(({ passes }) => passes(onClock(before), onClock(hours))),
    spacingH,
    greatestAgeH,
  );
}

type Passing = (beforeHours: number, hours: number) => number;

/** Rate · hours that would just reach each limit, at points of the scatter. */
interface Reach {
  readonly weights: Float64Array;
  readonly tighter: Float64Array;
  readonly original: Float64Array;
}

/** Averaged over the scatter, which is taken as one for both looks: mostly it is the component's own offset. */
function passingOf(parameters: RateParameters, tighterMm: number, replaceAtMm: number): Passing {
  const { nodes, weights } = normalQuadrature(SCATTER_POINTS);
  const omega = readingSdMm(parameters);
  const reachOf = (limitMm: number) =>
    nodes.map((node) => 1000 * (limitMm - parameters.interceptMm - omega * node));
  const tighter = reachOf(tighterMm);
  // Only points at which the scatter alone is not at the limit.
  const starts = (_: number, k: number) => tighter[k]! > 0;
  const reach = {
    weights: weights.filter(starts),
    tighter: tighter.filter(starts),
    original: reachOf(replaceAtMm).filter(starts),
  };
  return parameters.family === "lognormal"
    ? lognormalPassing(reach, parameters)
    : normalPassing(reach, parameters);
}

function lognormalPassing({ weights, tighter, original }: Reach, parameters: RateParameters): Passing {
  const { location } = parameters;
  const spread = Math.max(parameters.spread, SMALLEST_SPREAD);
  const standardised = (reach: number) => (Math.log(reach) - location) / spread;
  const zTighter = tighter.map(standardised);
  const zOriginal = original.map(standardised);
  return (before, hours) => {
    const then = Math.log(before) / spread;
    const now = Math.log(hours) / spread;
    let sum = 0;
    for (let k = 0; k < weights.length; k++) {
      // At no hours, `then` is −∞ and all are slow enough.
      const slowEnough = normalCdfInSums(zTighter[k]! - then);
      const stillBelow = normalCdfInSums(zOriginal[k]! - now);
      if (slowEnough > stillBelow) sum += weights[k]! * (slowEnough - stillBelow);
    }
    return sum;
  };
}

function normalPassing({ weights, tighter, original }: Reach, parameters: RateParameters): Passing {
  const { location } = parameters;
  const spread = Math.max(parameters.spread, SMALLEST_SPREAD);
  const positive = tabulatedNormalCdf(location / spread);
  const faster = (reach: number, hours: number) =>
    hours > 0 ? normalCdfInSums((location - reach / hours) / spread) / positive : 0;
  return (before, hours) => {
    let sum = 0;
    for (let k = 0; k < weights.length; k++) {
      const tooFast = faster(tighter[k]!, before);
      const over = faster(original[k]!, hours);
      if (over > tooFast) sum += weights[k]! * (over - tooFast);
    }
    return sum;
  };
}
