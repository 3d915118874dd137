import { describe, expect, it } from "vitest";
import { standardNormalQuantile } from "../../src/math/distributions.ts";
import { seededRandom } from "../../src/math/random.ts";
import { componentRates, meanOverComponents } from "../../src/wear/component-rates.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import { fitFamily } from "../../src/wear/decision-fit.ts";
import { survivalBelowLimit } from "../../src/wear/rate-families.ts";
import { andersonDarling, rateShapeTest } from "../../src/wear/rate-shape-test.ts";
import { overLimitAtRate, rateTail, tailRisk } from "../../src/wear/tail.ts";
import { wearTable } from "./read-set.ts";
import { simulateWear } from "./simulate-wear.ts";

function tailOf(data: ReturnType<typeof simulateWear>) {
  const result = fitFamily(data, "lognormal", "all");
  if (result.kind !== "fitted") throw new Error("not fitted");
  return { tail: rateTail(data, result.fit), fit: result.fit };
}

describe("rateTail(data, fit) and tailRisk(tail, risk, ofRate)", () => {
  it("finds no second part in rates that have none, and the three answers are near each other", () => {
    const { tail, fit } = tailOf(simulateWear({ seed: 6, components: 200, fromNew: true }));
    expect(tail.mixture).toBeNull();
    const risk = tailRisk(
      tail,
      (p) => 1 - survivalBelowLimit(p, 1200, 0.5),
      (rate) => overLimitAtRate(fit.parameters, rate, 1200, 0.5),
    );
    expect(risk.worst).toBe(Math.max(risk.fitted, risk.observed));
    expect(Math.abs(risk.fitted - risk.observed)).toBeLessThan(0.04);
    expect(tail.unseenShare).toBeCloseTo(3 / 200, 3);
  });

  it("finds a share of 15 % that wears 2.7 times as fast, and lets the worst answer govern", () => {
    const slow = simulateWear({ seed: 7, components: 170, spread: 0.15, fromNew: true });
    const fast = simulateWear({ seed: 8, components: 30, spread: 0.15, medianRate: 0.68, fromNew: true });
    const { sums } = slow;
    const join = (a: Float64Array, b: Float64Array) => Float64Array.of(...a, ...b);
    const both = {
      ...slow,
      sums: {
        components: sums.components + fast.sums.components,
        readings: sums.readings + fast.sums.readings,
        component: Int32Array.from({ length: 200 }, (_, i) => i),
        count: join(sums.count, fast.sums.count),
        meanHours: join(sums.meanHours, fast.sums.meanHours),
        meanWearMm: join(sums.meanWearMm, fast.sums.meanWearMm),
        hoursSquared: join(sums.hoursSquared, fast.sums.hoursSquared),
        hoursWear: join(sums.hoursWear, fast.sums.hoursWear),
        wearSquared: join(sums.wearSquared, fast.sums.wearSquared),
      },
      entryHours: new Float64Array(200),
      aircraft: new Int32Array(200).fill(-1),
    };
    const { tail, fit } = tailOf(both);
    expect(tail.mixture!.share).toBeGreaterThan(0.1);
    expect(tail.mixture!.share).toBeLessThan(0.2);
    expect(Math.exp(tail.mixture!.fast.location - tail.mixture!.most.location)).toBeCloseTo(0.68 / 0.25, 0);
    // At 700 h the fast ones are near the limit, and a single lognormal spreads their share over all.
    const risk = tailRisk(
      tail,
      (p) => 1 - survivalBelowLimit(p, 700, 0.5),
      (rate) => overLimitAtRate(fit.parameters, rate, 700, 0.5),
    );
    expect(risk.worst).toBe(Math.max(risk.fitted, risk.observed, risk.mixture!));
    expect(risk.governing).not.toBe("fitted spread");
    const shape = rateShapeTest(tail.rates, fit.parameters);
    expect(shape.kind === "tested" && shape.p).toBeLessThan(0.01);
  });
});

describe("componentRates(data, parameters)", () => {
  it("lets survivors stand for those that went before: the weighted mean is the rate of all fitted", () => {
    let weighted = 0;
    let plain = 0;
    for (let seed = 1; seed <= 4; seed++) {
      const data = simulateWear({ seed, components: 200, recordHours: 900 });
      const fit = fitFamily(data, "lognormal", "all");
      if (fit.kind !== "fitted") throw new Error(fit.kind);
      const rates = componentRates(data, fit.fit.parameters);
      weighted += meanOverComponents(rates, (rate) => Math.log(rate)) / 4;
      plain += rates.rateMmPer1000Hours.reduce((sum, rate) => sum + Math.log(rate) / 200, 0) / 4;
    }
    const truth = Math.log(0.25);
    expect(plain).toBeLessThan(truth - 0.06);
    expect(Math.abs(weighted - truth)).toBeLessThan(Math.abs(plain - truth) / 2);
  });
});

describe("componentRates of a component read within its first hour", () => {
  it("stay above zero, whatever the scatter made of that one reading", () => {
    const table = wearTable([
      ["A", 600, 0.08],
      ["A", 1200, 0.14],
      ["B", 600, 0.07],
      ["B", 1200, 0.13],
      ["C", 0.2, 0.001],
    ]);
    const data = {
      sums: componentSums(table),
      entryHours: new Float64Array(3),
      aircraft: Int32Array.of(-1, -1, -1),
      replaceAtMm: 0.5,
    };
    const parameters = {
      ...({ family: "lognormal", interceptMm: 0.02, interceptSdMm: 0.003 } as const),
      ...{ measurementSdMm: 0.012, location: Math.log(0.1), spread: 0.3 },
    };
    // (0.001 - 0.02) mm in 0.2 h is -95 mm per 1000 h, and makes the mean of the three negative.
    const { rateMmPer1000Hours } = componentRates(data, parameters);
    expect(Math.min(...rateMmPer1000Hours)).toBeGreaterThan(0);
  });
});

const LOGNORMAL = {
  family: "lognormal" as const,
  interceptMm: 0,
  interceptSdMm: 0,
  measurementSdMm: 0.01,
};
/** Standard error of a rate, mm per 1000 h. */
const ERROR = 0.04;

describe("rateShapeTest(rates, parameters, use)", () => {
  it("has the published A² on ball bearing lives, log lives against the smallest extreme value (SciPy anderson .3285098)", () => {
    // Lieblein and Zelen (1956), 48.40 variant; the maximum likelihood fit is shape 2.101846864, scale 81.87455872.
    const lives = [
      17.88, 28.92, 33.0, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88,
      84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4,
    ];
    const uniform = lives.map((life) => -Math.expm1(-((life / 81.87455872) ** 2.101846864)));
    expect(andersonDarling(uniform)).toBeCloseTo(0.328509846, 7);
  });

  it("does not take survivors for a wrong family: rejects few of 20 fleets whose components were met late", () => {
    let rejected = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const data = simulateWear({ seed, components: 60, recordHours: 1200 });
      const fit = fitFamily(data, "lognormal", "all");
      if (fit.kind !== "fitted") throw new Error(fit.kind);
      const { parameters } = fit.fit;
      const test = rateShapeTest(componentRates(data, parameters), parameters);
      if (test.kind === "tested" && test.p < 0.05) rejected++;
    }
    expect(rejected).toBeLessThanOrEqual(4);
  });

  it("cuts rates where a component entered, not their estimates, which scatter past the cut", () => {
    // Each was met late at hours that its rate only just allowed; 200 of them, estimated with a third of the spread's error.
    const parameters = { ...LOGNORMAL, location: -1, spread: 0.3 };
    const random = seededRandom(1);
    const rates: number[] = [];
    const cuts: number[] = [];
    while (rates.length < 200) {
      const cut = Math.exp(-1 + 0.3 * (random.normal() - 0.5));
      const rate = Math.exp(-1 + 0.3 * random.normal());
      if (rate > cut) continue;
      rates.push(Math.max(rate + ERROR * random.normal(), 0.01));
      cuts.push(Math.max(cut, rates.at(-1)!));
    }
    const test = rateShapeTest(
      {
        rateMmPer1000Hours: Float64Array.from(rates),
        standardError: new Float64Array(200).fill(ERROR),
        largestMet: Float64Array.from(cuts),
        weight: new Float64Array(200).fill(1),
      },
      parameters,
    );
    expect(test.kind === "tested" && test.p).toBeGreaterThan(0.05);
  });

  it("passes ideal rates, fails rates in two heaps, and asks for eight", () => {
    const parameters = { ...LOGNORMAL, location: -1, spread: 0.3 };
    const ratesOf = (logs: number[]) => ({
      rateMmPer1000Hours: Float64Array.from(logs, Math.exp),
      standardError: new Float64Array(logs.length).fill(1e-6),
      largestMet: new Float64Array(logs.length).fill(Number.POSITIVE_INFINITY),
      weight: new Float64Array(logs.length).fill(1),
    });
    const ideal = Array.from({ length: 50 }, (_, k) => -1 + 0.3 * standardNormalQuantile((k + 0.5) / 50));
    const good = rateShapeTest(ratesOf(ideal), parameters);
    if (good.kind !== "tested") throw new Error(good.kind);
    expect(good.p).toBeGreaterThan(0.95);
    expect(good.largestP).toBeGreaterThan(0.3);
    const heaps = rateShapeTest(ratesOf(ideal.map((v, k) => (k % 2 ? v : v + 3))), parameters);
    expect(heaps.kind === "tested" && heaps.p).toBeLessThan(0.001);
    const odd = rateShapeTest(ratesOf([...ideal.slice(0, 49), 1.5]), parameters);
    expect(odd.kind === "tested" && odd.largestP).toBeLessThan(1e-4);
    expect(rateShapeTest(ratesOf(ideal.slice(0, 7)), parameters)).toMatchObject({
      kind: "too-few",
      needed: 8,
    });
  });
});
