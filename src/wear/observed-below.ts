/** The plain mean over the components' own rates of the chance to be below a limit, as a curve over hours. */
import { normalCdfInSums } from "../math/tabulated-normal.ts";
import { type CurveOverHours, readingSdMm, thousandsOn } from "./rate-families.ts";
import { firstAtLeast, sortedRates } from "./sorted-rates.ts";
import type { RateTail } from "./tail.ts";

/** Beyond so many standard deviations of a reading it is below the limit for certain, or not at all. */
export const CERTAIN = 8.3;

/**
 * Only the components near the limit at some hours are gone through: those with less wear are below it, others over.
 *
 * @param exponent  hours count as hours^exponent, in units in which 1000 h stay 1000. __Default value:__ 1
 */
export function observedBelow({ fit, rates: own }: RateTail, limitMm: number, exponent = 1): CurveOverHours {
  const { rates, shares, before } = sortedRates(own);
  const roomMm = limitMm - fit.parameters.interceptMm;
  const omega = Math.max(readingSdMm(fit.parameters), 1e-12);
  const thousandsOf = thousandsOn(exponent);
  return (hours, logHours) => {
    const thousands = thousandsOf(hours, logHours);
    const from = firstAtLeast(rates, (roomMm - CERTAIN * omega) / thousands);
    const to = firstAtLeast(rates, (roomMm + CERTAIN * omega) / thousands);
    let sum = before[from]!;
    for (let k = from; k < to; k++) {
      sum += shares[k]! * normalCdfInSums((roomMm - rates[k]! * thousands) / omega);
    }
    return sum;
  };
}
