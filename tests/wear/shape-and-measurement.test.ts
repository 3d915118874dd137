import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import type { WearTable } from "../../src/records/wear-table.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import { powerHours, powerOf, wearCurvature } from "../../src/wear/curvature.ts";
import { gaugeResolution, heapingBelow, oddReadings, repeatScatter } from "../../src/wear/measurement.ts";
import { parseWearTable } from "../../src/wear/parse-wear-table.ts";
import { theilSenWear } from "../../src/wear/robust-slope.ts";
import { wearTable } from "./read-set.ts";
import { simulateWear } from "./simulate-wear.ts";

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), "utf8");
const series = JSON.parse(read("tests/reference/r-datasets.json"));

const fittedCurvature = (table: WearTable) => {
  const result = wearCurvature(table);
  if (result.kind !== "fitted") throw new Error(result.why);
  return result;
};

describe("wearCurvature(table, confidence)", () => {
  it("calls straight wear straight, also where replacement at the limit and late entry pick the readings", () => {
    let straight = 0;
    let middle = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const { exponent, lower, upper, verdict } = fittedCurvature(
        simulateWear({ seed, components: 80 }).table,
      );
      expect(lower).toBeLessThan(exponent);
      expect(upper).toBeGreaterThan(exponent);
      straight += verdict === "straight" ? 1 : 0;
      middle += exponent / 10;
    }
    // Each side errs in one of twenty.
    expect(straight).toBeGreaterThanOrEqual(8);
    expect(Math.abs(middle - 1)).toBeLessThan(0.03);
  });

  it("finds w ∝ h^1.3 under replacement at the limit: upper bound over 1.2 and not below the truth", () => {
    let covered = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const { upper, verdict } = fittedCurvature(simulateWear({ seed, components: 80, exponent: 1.3 }).table);
      expect(upper).toBeGreaterThan(1.2);
      expect(verdict).toBe("bends up");
      covered += upper >= 1.3 ? 1 : 0;
    }
    expect(covered).toBeGreaterThanOrEqual(8);
  });

  it("finds the published fatigue cracks bending up (Lu and Meeker 1993): no straight-line optimism", () => {
    const parsed = parseWearTable(
      read("data-samples/published/crack-growth-wear.csv"),
      "crack-growth-wear.csv",
    );
    if (parsed.kind !== "parsed") throw new Error("not parsed");
    const { lower, verdict, components } = fittedCurvature(parsed.groups[0]!.table);
    expect(components).toBe(21);
    expect(verdict).toBe("bends up");
    expect(lower).toBeGreaterThan(1.2);
  });

  it("does not depend on the unit of wear, and asks for repeated readings", () => {
    const { table } = simulateWear({ seed: 3, components: 40 });
    const inch = { ...table, wearMm: table.wearMm.map((wear) => wear / 25.4) };
    expect(fittedCurvature(inch).upper).toBeCloseTo(fittedCurvature(table).upper, 3);
    expect(
      wearCurvature(
        wearTable([
          ["a", 100, 1],
          ["b", 200, 2],
        ]),
      ).kind,
    ).toBe("too-few");
  });
});

describe("powerHours(table, exponent)", () => {
  it("makes a bent path straight in its units", () => {
    const table = powerHours(
      wearTable([
        ["a", 1000, 0],
        ["a", 2000, 0],
      ]),
      1.5,
    );
    expect([...table.hours]).toEqual([1000, 1000 * 2 ** 1.5]);
    expect(powerOf(1234, 1)).toBeCloseTo(1234, 9);
  });
});

/** Six components with the same readings: as few as bounds can be had from, and every slope the same. */
const sixTimes = (x: readonly number[], y: readonly number[]) =>
  theilSenWear(
    wearTable([1, 2, 3, 4, 5, 6].flatMap((name) => y.map((value, k) => [name, x[k]!, value] as const))),
  );

describe("theilSenWear(table, confidence)", () => {
  it("has the slope of the cloud seeding example (Hollander and Wolfe, ch. 9, from memory: −.056), recomputed", () => {
    const fit = sixTimes([1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03]);
    expect(fit).toMatchObject({ kind: "fitted", components: 6, rate: expect.closeTo(-56.25, 9) });
  });

  it("has R's slopes of the Nile and Lake Huron series", () => {
    const years = Array.from({ length: 100 }, (_, k) => 1871 + k);
    expect(sixTimes(years, series.Nile)).toMatchObject({ rate: expect.closeTo(-2600, 6) });
    expect(sixTimes(years.slice(0, 98), series.LakeHuron)).toMatchObject({
      rate: expect.closeTo(-25.125, 3),
    });
  });

  it("has no bounds from fewer than six components", () => {
    const five = wearTable(
      [1, 2, 3, 4, 5].flatMap((name) => [[name, 0, 0.1] as const, [name, 9, 0.2] as const]),
    );
    expect(theilSenWear(five)).toEqual({ kind: "too-few", components: 5 });
  });

  it("compares only readings of one component, and a few wild readings don't move it", () => {
    const { table } = simulateWear({ seed: 2, components: 60, fromNew: true, spread: 0.1 });
    const plain = theilSenWear(table);
    const wild = theilSenWear({
      ...table,
      wearMm: table.wearMm.map((w, k) => (k % 40 === 7 ? 25.4 * w : w)),
    });
    if (plain.kind !== "fitted" || wild.kind !== "fitted") throw new Error("not fitted");
    expect(Math.abs(plain.rate - 0.25)).toBeLessThan(0.02);
    expect(Math.abs(wild.rate - plain.rate)).toBeLessThan(0.02);
    expect(plain.lower).toBeLessThan(plain.rate);
    expect(plain.upper).toBeGreaterThan(plain.rate);
  });
});

describe("measurement", () => {
  it("takes scatter from repeats, by hand: pairs 0.10/0.12 and 0.30/0.34 give √((0.0002 + 0.0008)/2)", () => {
    const table = wearTable([
      ["a", 100, 0.1],
      ["b", 300, 0.34],
      ["a", 100.2, 0.12],
      ["a", 200, 0.5],
      ["b", 300, 0.3],
    ]);
    expect(repeatScatter(table).sdMm).toBeCloseTo(Math.sqrt(0.0005), 12);
    expect(repeatScatter(table).degreesOfFreedom).toBe(2);
    expect(repeatScatter(wearTable([["a", 1, 1]])).sdMm).toBeNull();
  });

  it("notices the gauge's step, in either system", () => {
    const random = seededRandom(1);
    const read = (step: number) =>
      wearTable(
        Array.from(
          { length: 100 },
          (_, k) => [k, 100, step * Math.round((0.5 * random.uniform()) / step)] as const,
        ),
      );
    expect(gaugeResolution(read(0.05))).toBe(0.05);
    expect(gaugeResolution(read(0.01))).toBe(0.01);
    expect(gaugeResolution(read(0.0254))).toBe(0.0254);
    expect(gaugeResolution(read(0.000123))).toBeNull();
  });

  it("finds readings heaped just below the limit, and none where there are none", () => {
    const random = seededRandom(4);
    const even = wearTable(
      Array.from({ length: 600 }, (_, k) => [k, 100, 0.01 * Math.round(60 * random.uniform())] as const),
    );
    expect(heapingBelow(even, 0.5).p).toBeGreaterThan(0.02);
    // Every reading of 0.50 to 0.51 written down as 0.49.
    const heaped = { ...even, wearMm: even.wearMm.map((w) => (w > 0.495 && w < 0.515 ? 0.49 : w)) };
    const test = heapingBelow(heaped, 0.5);
    expect(test.windowMm).toBeCloseTo(0.02, 12);
    expect(test.p).toBeLessThan(1e-4);
    expect(test.from).toBe(0);
  });

  it("flags a reading off its component's line with its influence, and only that one", () => {
    const { table, sums } = simulateWear({ seed: 5, components: 40, fromNew: true });
    expect(oddReadings(table, sums, 0.015)).toEqual([]);
    const row = Array.from({ length: table.rows }, (_, k) => k).find(
      (k) => table.component[k] === table.component[k + 2] && table.component[k] === table.component[k + 4],
    )!;
    const spoilt = { ...table, wearMm: table.wearMm.map((w, k) => (k === row ? w + 0.2 : w)) };
    const odd = oddReadings(spoilt, componentSums(spoilt), 0.015);
    expect(odd[0]!.row).toBe(row);
    // Too much wear early makes the slope too small: without the reading the rate would rise.
    expect(odd[0]!.influenceMmPer1000Hours).toBeGreaterThan(0);
  });
});
