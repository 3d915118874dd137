/** The share over the limit with a tighter replace-at limit, as a plain mean over the components' own rates. */
import { normalCdfInSums } from "../math/tabulated-normal.ts";
import { CERTAIN, observedBelow } from "../wear/observed-below.ts";
import { readingSdMm } from "../wear/rate-families.ts";
import { firstAtLeast, sortedRates } from "../wear/sorted-rates.ts";
import type { RateTail } from "../wear/tail.ts";
import { type TighterLimits, type TighterShare, tighterShare } from "./tighter-share.ts";

/** The same as `tighterShareOf`, from the rates as they are. */
export function tighterShareObserved(
  tail: RateTail,
  limits: TighterLimits,
  spacingH: number,
  greatestAgeH: number,
  onClock: (hours: number) => number,
): TighterShare {
  const below = observedBelow(tail, limits.tighterMm);
  const passes = observedPassing(tail, limits);
  return tighterShare(
    (hours) => below(onClock(hours)),
    (before, hours) => passes(onClock(before), onClock(hours)),
    spacingH,
    greatestAgeH,
  );
}

/**
 * Share of the components below the tighter limit at the first hours and over the original one at the second. Rates slow
 * enough to be below both for certain, or fast enough to be over both, add nothing; those sure to pass add their share.
 */
function observedPassing({ fit, rates: own }: RateTail, { replaceAtMm, tighterMm }: TighterLimits) {
  const { rates, shares, before: sharesBefore } = sortedRates(own);
  const { interceptMm } = fit.parameters;
  const omega = Math.max(readingSdMm(fit.parameters), 1e-12);
  const tighter = tighterMm - interceptMm;
  const original = replaceAtMm - interceptMm;
  const scatter = CERTAIN * omega;
  return (before: number, hours: number): number => {
    const then = before / 1000;
    const now = hours / 1000;
    let sum = 0;
    const add = (from: number, to: number) => {
      for (let k = from; k < to; k++) {
        const slowEnough = normalCdfInSums((tighter - rates[k]! * then) / omega);
        const stillBelow = normalCdfInSums((original - rates[k]! * now) / omega);
        if (slowEnough > stillBelow) sum += shares[k]! * (slowEnough - stillBelow);
      }
    };
    const notSlow = firstAtLeast(rates, (original - scatter) / now);
    const tooFast = placeBelow(rates, tighter + scatter, then);
    const over = firstAtLeast(rates, (original + scatter) / now);
    const under = placeBelow(rates, tighter - scatter, then);
    if (over >= under) add(notSlow, tooFast);
    else {
      add(notSlow, over);
      sum += sharesBefore[under]! - sharesBefore[over]!;
      add(under, tooFast);
    }
    return sum;
  };
}

/** Number of rates whose line has not come so far by some hours; at no hours none has come anywhere. */
const placeBelow = (rates: Float64Array, mm: number, thousandHours: number): number =>
  thousandHours > 0 ? firstAtLeast(rates, mm / thousandHours) : mm > 0 ? rates.length : 0;
