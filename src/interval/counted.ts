/**
 * What was counted at the present interval: vetoes, not forecasts.
 */
import { clopperPearson, poissonBounds } from "../math/exact-bounds.ts";
import type { Life } from "../records/life.ts";
import type { Day } from "../units.ts";
import type { FailuresInGroup } from "./failure-record.ts";
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

/**
 * Functional failures by wear per 1000 hours watched, with exact Poisson bounds, each one-sided at the stated confidence:
 * what is above an acceptable rate is so "with that confidence at least".
 */
export function functionalFailures(
  lives: readonly Life[],
  recorded: FailuresInGroup,
  confidence: number,
): FunctionalFailureCount {
  let hours = 0;
  for (const life of lives) hours += life.lastHours - life.observedFromHours;
  const { failures, inLast24Months, open, lacks } = recorded;
  const count = poissonBounds(failures, 2 * confidence - 1);
  const per1000 = (value: number) => (1000 * value) / hours;
  return {
    failures,
    hours,
    per1000H:
      hours > 0
        ? { estimate: per1000(count.estimate), lower: per1000(count.lower), upper: per1000(count.upper) }
        : null,
    inLast24Months,
    open: open.length,
    firstOpen: open[0] === undefined ? null : { source: open[0].source, why: open[0].why },
    lacks,
  };
}
