/**
 * True risks at an interval, by simulating the maintenance itself: components of their true rates, worn, looked at late
 * or early through the gauge with the true chance of seeing it, taken off for other reasons, and replaced, many times
 * over. Nothing here knows the formulas that the program decides with.
 */
import { type Random, seededRandom } from "../../src/math/random.ts";
import { fly, newComponent, trueRatePerHour, wearMm } from "../../src/simulate/component-state.ts";
import { streamSeed } from "../../src/simulate/maintenance.ts";
import type { PartSettings } from "../../src/simulate/settings.ts";

export interface TrueRisks {
  /** Of the looks made, the share that finds the component at or over the limit. */
  readonly overLimit: number;
  /** Of the components that reached the limit, the share that passed the unsafe-at limit before a look saw it; 0 without one. */
  readonly unsafe: number;
  readonly looks: number;
  readonly reached: number;
}

/** Further from the limit than so many standard deviations of the gauge, scatter decides nothing. */
const FAR = 6;

/**
 * @param part        with one rate; mechanics are neither cautious nor do they put readings off (what the interval must
 *                    bear does not rest on their caution)
 * @param components  followed one after the other from new
 */
export function trueRisks(
  part: PartSettings,
  intervalH: number,
  components: number,
  seed: number,
): TrueRisks {
  const counts = { looks: 0, found: 0, reached: 0, unsafe: 0 };
  for (let k = 0; k < components; k++) {
    // A stream for each component, so that it is the same one at every interval.
    follow(part, intervalH, seededRandom(streamSeed(seed, k)), counts);
  }
  return {
    overLimit: counts.found / counts.looks,
    unsafe: counts.reached === 0 ? 0 : counts.unsafe / counts.reached,
    looks: counts.looks,
    reached: counts.reached,
  };
}

type Counts = { looks: number; found: number; reached: number; unsafe: number };

function follow(part: PartSettings, intervalH: number, random: Random, counts: Counts): void {
  const { looks, gauge, removals, replaceAtMm } = part;
  const component = newComponent(part, 0, 0, random);
  component.ratePerHour = trueRatePerHour(part, component, part.rates[0]!, 0);
  const otherPerHour =
    (removals.conveniencePer1000h * (1 - removals.refitChance) + removals.sealLeakPer1000h) / 1000;
  const othersAtH = otherPerHour === 0 ? Number.POSITIVE_INFINITY : random.exponential() / otherPerHour;
  const biasMm = (gauge.driftMmPerYear * gauge.calibrationMonths * random.uniform()) / 12;
  let reached = false;
  const reach = () => {
    if (!reached) counts.reached++;
    reached = true;
  };
  for (;;) {
    const spacingH =
      intervalH * (1 - looks.earlyShare + random.uniform() * (looks.earlyShare + looks.lateShare));
    const leftH = Math.min(spacingH, othersAtH - component.hours);
    const { failed } = fly(part, component, null, leftH);
    const trueMm = wearMm(part, component);
    if (failed || trueMm >= replaceAtMm) reach();
    if (failed) {
      counts.unsafe++;
      return;
    }
    if (leftH < spacingH) return;
    counts.looks++;
    const farBelow = trueMm + biasMm < replaceAtMm - FAR * gauge.scatterMm;
    if (farBelow) continue;
    const readMm = trueMm + biasMm + gauge.scatterMm * random.normal();
    if (readMm >= replaceAtMm - gauge.resolutionMm / 2 && random.uniform() < gauge.detectionChance) {
      counts.found++;
      return;
    }
  }
}
