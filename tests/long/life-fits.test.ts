/** Long checks of the life models: every random data set ends well, and one-sided bounds miss as often as they say. */
import { describe, expect, it } from "vitest";
import { lifeLine } from "../../src/life/decision-line.ts";
import { twoSidedDrop } from "../../src/life/likelihood-drop.ts";
import { lifeBounds, shapeBounds } from "../../src/life/profile-bounds.ts";
import { survivalCurve } from "../../src/life/survival-curve.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { likelihoodAt } from "../../src/life/weibull-likelihood.ts";
import { seededRandom } from "../../src/math/random.ts";
import { randomLives } from "../life/random-lives.ts";
import { type SimulatedFleet, simulatedLives } from "../life/simulated-lives.ts";

describe("fitWeibull(table) on 10,000 random data sets", () => {
  it("converges with finite bounds, or says why; shape 0.3-20, 1-99 % censoring, 1-5,000 lives, hours 1e-3 to 1e7", () => {
    const random = seededRandom(1);
    const drop = twoSidedDrop(0.95);
    for (let i = 0; i < 10_000; i++) {
      const table = randomLives(random, 5000);
      const fit = fitWeibull(table);
      if (fit.kind === "none") {
        expect(fit.reason).not.toBe("not-converged");
        continue;
      }
      const at = likelihoodAt(fit.likelihood, fit.alpha, fit.beta);
      expect(Math.abs(at.gradAlpha)).toBeLessThan(1e-7 * (1 + fit.lives));
      expect(Math.abs(at.gradBeta * fit.beta)).toBeLessThan(1e-7 * (1 + fit.lives));
      for (const bounds of [shapeBounds(fit, drop), lifeBounds(fit, 0.1, drop)]) {
        expect(bounds.lower ?? 1).toBeGreaterThan(0);
        expect(bounds.upper ?? 1).toBeLessThan(Number.POSITIVE_INFINITY);
      }
    }
  });

  it("the nonparametric curve reaches its maximum on 1,000 of them", () => {
    const random = seededRandom(2);
    for (let i = 0; i < 1000; i++) {
      const curve = survivalCurve(randomLives(random, 1000));
      if (curve.kind === "none") expect(curve.why).toContain("no events");
      else expect(curve.selfConsistency).toBeLessThan(1e-9);
    }
  });
});

/** How often the bounds of the chance of an event by 600 h are on the wrong side of the truth. */
function misses(
  fleet: SimulatedFleet,
  repeats: number,
  resamples: number,
): { unsafe: number; other: number } {
  const random = seededRandom(100);
  const truth = -Math.expm1(-((600 / fleet.scaleHours) ** fleet.shape));
  let [unsafe, other, counted] = [0, 0, 0];
  for (let i = 0; i < repeats; i++) {
    const line = lifeLine(simulatedLives(fleet, random), { confidence: 0.95, resamples, seed: i });
    if (line.kind === "none") continue;
    counted++;
    const { lower, upper } = line.bounded((survival) => 1 - survival(600));
    if (upper !== null && upper < truth) unsafe++;
    if (lower !== null && lower > truth) other++;
  }
  return { unsafe: unsafe / counted, other: other / counted };
}

const FLEET: SimulatedFleet = {
  shape: 2.5,
  scaleHours: 3000,
  aircraft: 30,
  perAircraft: 1,
  alike: 0,
  lookHours: 0,
  followedHours: 2500,
};

describe("lifeLine(table, options): coverage of one-sided 95 % bounds", () => {
  // About 5, 10, 30 and 100 events.
  for (const [aircraft, events] of [
    [18, 5],
    [36, 10],
    [108, 30],
    [360, 100],
  ] as const) {
    for (const lookHours of [0, 500]) {
      it(`${events} events, ${lookHours === 0 ? "exact" : "by looks"}: misses on the unsafe side at most 7 %`, () => {
        const result = misses({ ...FLEET, aircraft, lookHours }, 1000, 200);
        process.stdout.write(`events ${events}, looks ${lookHours}: ${JSON.stringify(result)}\n`);
        expect(result.unsafe).toBeLessThan(0.07 + 0.007);
      });
    }
  }
  for (const alike of [0, 0.3, 0.5]) {
    it(`lives of one aircraft alike by ${alike}: misses on the unsafe side at most 7 %`, () => {
      const result = misses({ ...FLEET, perAircraft: 4, alike, lookHours: 500 }, 1000, 200);
      process.stdout.write(`alike ${alike}: ${JSON.stringify(result)}\n`);
      expect(result.unsafe).toBeLessThan(0.07 + 0.007);
    });
  }
});
