/** Long checks of borrowing: how often its one-sided 95 % bounds miss, and how often a test stops it where nothing differs. */
import { describe, expect, it } from "vitest";
import { borrowedShape, risksWithShape } from "../../src/life/borrowed-shape.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { LifeTable } from "../../src/records/life-table.ts";
import { borrowedSpread } from "../../src/wear/borrowed-spread.ts";
import { fitFamily } from "../../src/wear/decision-fit.ts";
import type { DecisionData } from "../../src/wear/decision-likelihood.ts";
import { likelihoodRegion } from "../../src/wear/likelihood-region.ts";
import { pooledSpread, type SpreadLender } from "../../src/wear/pooled-spread.ts";
import { rateQuantile } from "../../src/wear/rate-families.ts";
import { simulatedLives } from "../life/simulated-lives.ts";
import { simulateWear } from "../wear/simulate-wear.ts";

interface Tally {
  lent: number;
  refused: number;
  missedUnsafe: number;
  missedOther: number;
}
const shares = ({ lent, refused, missedUnsafe, missedOther }: Tally) => ({
  refused: refused / (lent + refused),
  missedUnsafe: missedUnsafe / lent,
  missedOther: missedOther / lent,
});

/** @param thinSpread  of the thin group's log rates; the lenders' is 0.4 */
function spreadTally(components: number, perAircraft: number, alike: number, thinSpread = 0.4): Tally {
  const tally: Tally = { lent: 0, refused: 0, missedUnsafe: 0, missedOther: 0 };
  const apart = (data: DecisionData, group: number): DecisionData => ({
    ...data,
    aircraft: data.aircraft.map((number) => number + 1000 * group),
  });
  for (let seed = 0; seed < 400; seed++) {
    const lenders = [0.25, 0.1].flatMap((medianRate, g): SpreadLender[] => {
      const truth = { medianRate, components: 30, perAircraft: 3, aircraftCorrelation: alike };
      const data = simulateWear({ ...truth, seed: 1000 * seed + g });
      const found = fitFamily(data, "lognormal", "all");
      return found.kind === "fitted" ? [{ data: apart(data, g + 1), fit: found.fit }] : [];
    });
    const truth = { medianRate: 0.3, spread: thinSpread, fromNew: true };
    const like = { components, perAircraft, aircraftCorrelation: alike };
    const own = apart(simulateWear({ ...truth, ...like, seed: 1000 * seed + 500 }), 9);
    const pooled = lenders.length < 2 ? null : pooledSpread(lenders);
    if (pooled?.kind !== "pooled" || new Set(own.aircraft).size < 3) continue;
    const found = borrowedSpread(own, pooled, lenders);
    if (found.kind === "none") continue;
    if (Math.min(found.ownP, pooled.allP, pooled.spreadP) < 0.05) {
      tally.refused++;
      continue;
    }
    tally.lent++;
    const bound = likelihoodRegion(found.fitFor(0.95), 0.95).bound((p) => rateQuantile(p, 0.99));
    const fast = truth.medianRate * Math.exp(thinSpread * 2.3263);
    if (bound.upper < fast) tally.missedUnsafe++;
    if (bound.lower > fast) tally.missedOther++;
  }
  return tally;
}

describe("borrowedSpread(own, pooled, lenders): the rate of the fastest in a hundred", () => {
  for (const [components, perAircraft, alike] of [
    [4, 1, 0],
    [8, 2, 0],
    [6, 1, 0.5],
    [8, 2, 0.5],
    [9, 3, 0.5],
  ] as const) {
    it(`${components} components, ${perAircraft} an aircraft, alike by ${alike}: at most 7 % missed on the unsafe side`, () => {
      const found = shares(spreadTally(components, perAircraft, alike));
      process.stdout.write(`spread ${components} ${perAircraft} ${alike}: ${JSON.stringify(found)}\n`);
      expect(found.missedUnsafe).toBeLessThan(0.07 + 0.012);
      expect(found.refused).toBeLessThan(0.5);
    });
  }
  it("refuses most often where the thin group is spread twice as wide", () => {
    const found = shares(spreadTally(8, 1, 0, 0.8));
    process.stdout.write(`spread twice as wide: ${JSON.stringify(found)}\n`);
    expect(found.refused).toBeGreaterThan(0.5);
  });
});

function shapeTally(alike: number): Tally {
  const tally: Tally = { lent: 0, refused: 0, missedUnsafe: 0, missedOther: 0 };
  const random = seededRandom(7);
  const fleet = { shape: 2.5, perAircraft: 4, alike, lookHours: 300, followedHours: 2500 };
  const apart = (table: LifeTable, group: number): LifeTable => ({
    ...table,
    cluster: table.cluster.map((number) => number + 1000 * group),
  });
  for (let repeat = 0; repeat < 400; repeat++) {
    const lenders = [1500, 2500].flatMap((scaleHours, g) => {
      const table = apart(simulatedLives({ ...fleet, scaleHours, aircraft: 12 }, random), g);
      const fit = fitWeibull(table);
      return fit.kind === "fitted" ? [{ table, fit }] : [];
    });
    const scaleHours = 5000;
    const own = apart(simulatedLives({ ...fleet, scaleHours, aircraft: 4, perAircraft: 3 }, random), 9);
    const fit = fitWeibull(own);
    const shared = borrowedShape(own, lenders);
    if (fit.events > 2 || shared.kind === "none") continue;
    const range = shared.rangeAt(0.95);
    if (shared.p < 0.05 || range === null) {
      tally.refused++;
      continue;
    }
    tally.lent++;
    const risk = (parameters: { shape: number; scaleHours: number }) =>
      -Math.expm1(-((660 / parameters.scaleHours) ** parameters.shape));
    const { lower, upper } = risksWithShape(own, shared.shape, range, 0.95)(risk);
    const truth = risk({ shape: 2.5, scaleHours });
    if (upper === null || upper < truth) tally.missedUnsafe++;
    if (lower !== null && lower > truth) tally.missedOther++;
  }
  return tally;
}

describe("borrowedShape(own, lenders): the chance of an event by 660 h, of 12 lives with 0 to 2 events", () => {
  for (const alike of [0, 0.3]) {
    it(`lives of one aircraft alike by ${alike}: at most 7 % missed on the unsafe side`, () => {
      const found = shares(shapeTally(alike));
      process.stdout.write(`shape ${alike}: ${JSON.stringify(found)}\n`);
      expect(found.missedUnsafe).toBeLessThan(0.07 + 0.012);
    });
  }
});
