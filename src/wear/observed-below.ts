/** The plain mean over the components' own rates of the chance to be below a limit, as a curve over hours. */
import { normalCdfInSums } from "../math/tabulated-normal.ts";
import { readingSdMm } from "./rate-families.ts";
import { firstAtLeast, sortedRates } from "./sorted-rates.ts";
import type { RateTail } from "./tail.ts";

/** Beyond so many standard deviations of a reading it is below the limit for certain, or not at all. */
export const CERTAIN = 8.3;

/** Only the components near the limit at some hours are gone through: those with less wear are below it, others over. */
export function observedBelow({ fit, rates: own }: RateTail, limitMm: number): (hours: number) => number {
  const { rates, shares, before } = sortedRates(own);
  const roomMm = limitMm - fit.parameters.interceptMm;
  const omega = Math.max(readingSdMm(fit.parameters), 1e-12);
  return (hours) => {
    const thousands = hours / 1000;
    const from = firstAtLeast(rates, (roomMm - CERTAIN * omega) / thousands);
    const to = firstAtLeast(rates, (roomMm + CERTAIN * omega) / thousands);
    let sum = before[from]!;
    for (let k = from; k < to; k++) {
      sum += shares[k]! * normalCdfInSums((roomMm - rates[k]! * thousands) / omega);
    }
    return sum;
  };
}
