import { describe, expect, it } from "vitest";
import { overLimitShare } from "../../src/interval/over-limit-share.ts";
import { type WearFits, type WearLine, wearFits, wearLine } from "../../src/interval/wear-line.ts";
import { seededRandom } from "../../src/math/random.ts";
import { unreadRemovals } from "../../src/records/unread-removals.ts";
import { makeLife } from "../records/make-life.ts";
import { simulateWear } from "../wear/simulate-wear.ts";

const TRUTH = { medianRate: 0.25, spread: 0.4, interceptMm: 0.02, interceptSdMm: 0.01, scatterMm: 0.015 };
const LIMITS = { replaceAtMm: 0.5, unsafeAtMm: 0.8 };
const SPACING_H = 330;
const EXPONENT = 1.3;

/** What the maintenance itself does: 40,000 components on convex paths, each looked at every SPACING_H. */
function maintenance() {
  const random = seededRandom(99);
  let looks = 0;
  let finds = 0;
  let unsafe = 0;
  const components = 40_000;
  for (let k = 0; k < components; k++) {
    const rate = TRUTH.medianRate * Math.exp(TRUTH.spread * random.normal());
    const offset = TRUTH.interceptMm + TRUTH.interceptSdMm * random.normal();
    const wearAt = (hours: number) => offset + rate * (hours / 1000) ** EXPONENT;
    for (let hours = SPACING_H; ; hours += SPACING_H) {
      looks++;
      if (wearAt(hours) + TRUTH.scatterMm * random.normal() < LIMITS.replaceAtMm) continue;
      finds++;
      break;
    }
    // Reached just after a look: how many looks, one miss in ten, until unsafe, half as fast again beyond the limit?
    const reached = 1000 * ((LIMITS.replaceAtMm - offset) / rate) ** (1 / EXPONENT);
    const perHour = (EXPONENT * rate * (reached / 1000) ** (EXPONENT - 1) * 1.5) / 1000;
    const before = Math.min(4, Math.floor((LIMITS.unsafeAtMm - LIMITS.replaceAtMm) / perHour / SPACING_H));
    unsafe += 0.1 ** before;
  }
  return { overLimit: finds / looks, unsafe: unsafe / components };
}

describe("wearLine(wearFits(readings, unread, replaceAtMm, confidence), …) on convex wear, replaced at the limit", () => {
  const truth = maintenance();
  const setting = {
    ...LIMITS,
    beyondLimitFactor: 1.5,
    detectionChance: 0.9,
    otherRemovalsPerHour: 0,
  };

  const fitsOf = (seed: number, components: number) => {
    const { table, entryHours, aircraft } = simulateWear({
      seed,
      ...TRUTH,
      components,
      intervalHours: 300,
      recordHours: 2400,
      exponent: EXPONENT,
    });
    const readings = { table, entryHours, cluster: aircraft, lives: [] };
    const fits = wearFits(readings, { byWear: 0, unread: 0 }, LIMITS.replaceAtMm, 0.95);
    if (fits.kind === "none") throw new Error(fits.why);
    return fits;
  };
  const lineOf = (fits: WearFits) => {
    const result = wearLine(fits, LIMITS.replaceAtMm, 0.95);
    if (result.kind === "none") throw new Error(result.why);
    return result.line;
  };
  const overLimit = (line: WearLine) =>
    line.bounded((survival) => overLimitShare(survival, SPACING_H, 0)).upper!;

  it.each([1, 2, 3])(
    "never bounds a risk below what convex wear (hours^1.3) does (90 components, seed %i)",
    (seed) => {
      const line = lineOf(fitsOf(seed, 90));
      expect(line.curvature).toMatchObject({ kind: "fitted" });
      expect(overLimit(line)).toBeGreaterThanOrEqual(truth.overLimit);
      expect(line.unsafe(setting, SPACING_H).upper!).toBeGreaterThanOrEqual(truth.unsafe);
    },
  );

  it("bounds a number below zero as any other: the hours of a share, asked for as their negative", () => {
    const line = lineOf(fitsOf(1, 90));
    const { estimate, lower, upper } = line.bounded((survival) => -1000 * survival(SPACING_H));
    expect(upper!).toBeLessThan(0);
    expect(estimate).toBeLessThanOrEqual(upper!);
    expect(lower!).toBeLessThanOrEqual(estimate);
  });

  it("owes that to the bend: many straight lines alone would be bounded below the truth", () => {
    const fits = fitsOf(4, 1200);
    const straight = lineOf({ ...fits, clocks: [fits.clocks[0]], established: null });
    expect(straight.unsafe(setting, SPACING_H).upper!).toBeLessThan(truth.unsafe);
    const line = lineOf(fits);
    // The readings rule out straight wear, so the best estimate is that of the bend they show.
    expect(fits.established!.exponent).toBeCloseTo(EXPONENT, 1);
    const estimateOf = (of: WearLine) => of.unsafe(setting, SPACING_H, "estimate").estimate;
    expect(estimateOf(line)).toBeGreaterThan(estimateOf(straight));
    expect(estimateOf(line)).toBeLessThanOrEqual(line.unsafe(setting, SPACING_H).upper!);
    expect(line.unsafe(setting, SPACING_H).upper!).toBeGreaterThanOrEqual(truth.unsafe);
    expect(overLimit(line)).toBeGreaterThanOrEqual(truth.overLimit);
  });
});

describe("unreadRemovals(lives), and wearFits with them", () => {
  const removed = (over: Partial<Parameters<typeof makeLife>[0]>) =>
    makeLife({ removedDay: 100, lowerHours: 600, upperHours: 900, lastHours: 900, ...over });
  const read = removed({
    end: "over limit found",
    readingHours: [300, 600, 900],
    readingWearMm: [0.2, 0.3, 0.5],
  });
  const inWords = removed({ end: "over limit found", readingHours: [300, 600], readingWearMm: [0.2, 0.3] });
  const unread = removed({ end: "unread removal", readingHours: [300, 600], readingWearMm: [0.2, 0.3] });
  const inService = removed({ end: "functional failure", readingHours: [300], readingWearMm: [0.3] });

  it("counts removals by wear and those without the reading that led to them (by hand)", () => {
    expect(unreadRemovals([read, inWords, unread, inService])).toEqual({ byWear: 3, unread: 2 });
    // A shop's number at the removal is a reading; a component left in over the limit is no removal.
    const shop = { ...unread, readingHours: [300, 900], readingWearMm: [0.3, 0.7] };
    expect(unreadRemovals([shop, { ...read, removedDay: null }])).toEqual({ byWear: 1, unread: 0 });
    // What began elsewhere is not in the wear line; a removal for another cause is none by wear.
    expect(unreadRemovals([{ ...unread, piece: 2 }, removed({ end: "removed" })])).toEqual({
      byWear: 0,
      unread: 0,
    });
  });

  it("leaves no wear line where more than one removal by wear in ten is unread", () => {
    const { table, entryHours, aircraft } = simulateWear({ seed: 1, components: 40 });
    const readings = { table, entryHours, cluster: aircraft, lives: [] };
    const at = (count: number) => wearFits(readings, { byWear: 20, unread: count }, 0.5, 0.95);
    expect(at(2).kind).toBe("fits");
    expect(at(3)).toMatchObject({ kind: "none", why: /^3 of 20 removals by wear lack the reading/ });
    expect(wearLine(at(3), 0.5, 0.95)).toMatchObject({ kind: "none" });
  });
});
