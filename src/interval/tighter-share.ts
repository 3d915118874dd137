/**
 * A tighter replace-at limit R′ that would make a longer interval hold. Replacing at R′ < R, a look finds a component
 * over R only if wear passed from below R′ to over R since the look before; the margin to the unsafe-at limit is U − R′;
 * and what is taken off between R′ and R is the price.
 *
 * From the wear line: lives know only the limit that they were removed at. Where the life line's share at R is worse
 * than the wear line's, the result is raised by as much.
 */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import { type RateParameters, rateCdf, readingSdMm, survivalCurveBelow } from "../wear/rate-families.ts";
import type { RateTail } from "../wear/tail.ts";
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

/** Averaged over the scatter, which is taken as one for both looks: mostly it is the component's own offset. */
function passingOf(parameters: RateParameters, tighterMm: number, replaceAtMm: number) {
  const { nodes, weights } = normalQuadrature(SCATTER_POINTS);
  const omega = readingSdMm(parameters);
  // Rate · hours that would just reach each limit, at each point of the scatter; only where that is above zero.
  const points = Array.from(nodes, (node, k) => {
    const room = (limitMm: number) => 1000 * (limitMm - parameters.interceptMm - omega * node);
    return { weight: weights[k]!, tighter: room(tighterMm), original: room(replaceAtMm) };
  }).filter(({ tighter }) => tighter > 0);
  return (before: number, hours: number): number => {
    let sum = 0;
    for (const { weight, tighter, original } of points) {
      const slowEnough = before > 0 ? rateCdf(parameters, tighter / before) : 1;
      if (slowEnough > 0) sum += weight * Math.max(0, slowEnough - rateCdf(parameters, original / hours));
    }
    return sum;
  };
}

/** The same as a plain mean over the components' own rates. */
export function tighterShareObserved(
  { fit, rates }: RateTail,
  limits: TighterLimits,
  spacingH: number,
  greatestAgeH: number,
  onClock: (hours: number) => number,
): TighterShare {
  const { parameters } = fit;
  const omega = Math.max(readingSdMm(parameters), 1e-12);
  const { rateMmPer1000Hours, weight } = rates;
  const total = weight.reduce((sum, value) => sum + value, 0);
  const mean = (of: (rate: number) => number) => {
    let sum = 0;
    for (let i = 0; i < weight.length; i++) sum += weight[i]! * of(rateMmPer1000Hours[i]!);
    return sum / total;
  };
  const z = (limitMm: number, rate: number, hours: number) =>
    (limitMm - parameters.interceptMm - (rate * hours) / 1000) / omega;
  return tighterShare(
    (hours) => mean((rate) => tabulatedNormalCdf(z(limits.tighterMm, rate, onClock(hours)))),
    (before, hours) =>
      mean((rate) => {
        const upTo = tabulatedNormalCdf(z(limits.tighterMm, rate, onClock(before)));
        return Math.max(0, upTo - tabulatedNormalCdf(z(limits.replaceAtMm, rate, onClock(hours))));
      }),
    spacingH,
    greatestAgeH,
  );
}
