/**
 * What was counted at the present interval: vetoes, not forecasts.
 */
import { clopperPearson, poissonBounds } from "../math/exact-bounds.ts";
import type { Life } from "../records/life.ts";
import { addMonths, type Day } from "../units.ts";
import { looksAtInterval } from "./looks-at-present.ts";
import type { CountedAtPresent, FunctionalFailureCount } from "./month-result.ts";

/** Over-limit finds among the looks made within `band` of the present interval since the last change. */
export function countedAtPresent(
  lives: readonly Life[],
  presentH: number,
  since: Day | null,
  band: number,
  confidence: number,
): CountedAtPresent {
  const found = looksAtInterval(lives, presentH, since, band);
  const overLimit = found.filter((look) => look.overLimit).length;
  const ages = found.map(({ hours }) => hours).sort((a, b) => a - b);
  const looks = ages.length;
  return {
    overLimit,
    looks,
    share: looks === 0 ? null : clopperPearson(overLimit, looks, confidence),
    since,
    ages:
      looks === 0
        ? null
        : { smallest: ages[0]!, median: ages[Math.floor(looks / 2)]!, largest: ages[looks - 1]! },
  };
}

/** Functional failures by wear per 1000 hours watched, with exact Poisson bounds. */
export function functionalFailures(
  lives: readonly Life[],
  asOf: Day,
  confidence: number,
): FunctionalFailureCount {
  let failures = 0;
  let hours = 0;
  let inLast24Months = 0;
  const from = addMonths(asOf, -24);
  for (const life of lives) {
    hours += life.lastHours - life.observedFromHours;
    if (life.functionalFailureHours === null) continue;
    failures++;
    if (life.removedDay !== null && life.removedDay > from) inLast24Months++;
  }
  const count = poissonBounds(failures, confidence);
  const per1000 = (value: number) => (1000 * value) / hours;
  return {
    failures,
    hours,
    per1000H:
      hours > 0
        ? { estimate: per1000(count.estimate), lower: per1000(count.lower), upper: per1000(count.upper) }
        : null,
    inLast24Months,
  };
}
