/** The unsafe-at risk as a plain mean over observed component rates with their weights. */
import { MOST_LOOKS_COUNTED } from "../fleet/defaults.ts";
import { power } from "../math/power.ts";
import type { ComponentRates } from "../wear/component-rates.ts";
import type { RateParameters } from "../wear/rate-families.ts";
import { sortedRates, sumsBefore } from "../wear/sorted-rates.ts";
import { atLimit, type UnsafeSetting } from "./rate-risk.ts";
import { reachesLimit, type WayToLimit } from "./reaching-above.ts";
import { looksBeforeUnsafe, usableMarginMm } from "./unsafe-risk.ts";

type Rates = Pick<ComponentRates, "rateMmPer1000Hours" | "weight">;

/** The faster a component, the fewer looks it gets: components by the looks they get are runs of the sorted rates. */
export function unsafeRiskObserved(
  own: Rates,
  parameters: RateParameters,
  setting: UnsafeSetting,
  spacingH: number,
  exponent = 1,
): number {
  const limit = atLimit(parameters, setting, exponent);
  const marginMm = usableMarginMm(setting.replaceAtMm, setting.unsafeAtMm, parameters.measurementSdMm);
  const { rates } = sortedRates(own);
  const reachedBefore = reachedSums(own, limit.way);
  const reached = reachedBefore[rates.length]!;
  if (!(reached > 0)) return 0;
  const looksOf = (k: number) =>
    looksBeforeUnsafe(marginMm, limit.localPerHour(rates[k]!) * setting.beyondLimitFactor, spacingH);
  let risk = 0;
  let from = 0;
  for (let looks = MOST_LOOKS_COUNTED; looks >= 0; looks--) {
    const to = looks === 0 ? rates.length : firstWithFewer(looksOf, looks, from, rates.length);
    risk += (reachedBefore[to]! - reachedBefore[from]!) * power(1 - setting.detectionChance, looks);
    from = to;
  }
  return risk / reached;
}

/** First place from `from` on that gets fewer looks; looks never rise from one place to the next. */
function firstWithFewer(looksOf: (k: number) => number, looks: number, from: number, end: number): number {
  let low = from;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (looksOf(middle) >= looks) low = middle + 1;
    else high = middle;
  }
  return low;
}

const known = new WeakMap<object, Map<string, Float64Array>>();

/** Sums of the shares that reach the limit, before each place of the sorted rates; made once for each way there. */
function reachedSums(own: Rates, way: WayToLimit): Float64Array {
  const key = `${way.toLimitMm} ${way.exponent} ${way.hazardPerHour}`;
  const ways = known.get(own) ?? new Map<string, Float64Array>();
  known.set(own, ways);
  const ready = ways.get(key);
  if (ready !== undefined) return ready;
  const { rates, shares } = sortedRates(own);
  const sums = sumsBefore(shares.map((share, k) => share * reachesLimit(way, rates[k]!)));
  ways.set(key, sums);
  return sums;
}
