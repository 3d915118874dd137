import { describe, expect, it } from "vitest";
import { oneSidedDrop, twoSidedDrop } from "../../src/life/likelihood-drop.ts";
import { boundOverRegion, survivalBounds } from "../../src/life/likelihood-region.ts";
import { lifeAt, lifeBounds, scaleBounds, shapeBounds } from "../../src/life/profile-bounds.ts";
import { traceRegion } from "../../src/life/region-outline.ts";
import { type FittedWeibull, fitWeibull } from "../../src/life/weibull-fit.ts";
import { type LifeTable, lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable, reference } from "./reference-data.ts";

const drop = twoSidedDrop(0.95);

function fitted(table: LifeTable): FittedWeibull {
  const result = fitWeibull(table);
  if (result.kind !== "fitted") throw new Error(result.why);
  return result;
}

describe("shapeBounds, lifeBounds(fit, fraction, drop) against profiles by uniroot in R (reference/life.json)", () => {
  for (const entry of reference.weibull) {
    it(`${entry.data}, ${entry.group}`, () => {
      const fit = fitted(dataTable(entry.data, entry.group));
      const tolerance = entry.data === "retirement-home" ? 1e-4 : reference.tolerance.bound;
      const shape = shapeBounds(fit, drop);
      expect(apart(shape.lower!, entry.shapeBounds[0]!)).toBeLessThan(tolerance);
      expect(apart(shape.upper!, entry.shapeBounds[1]!)).toBeLessThan(tolerance);
      for (const life of entry.livesAt) {
        const ours = lifeBounds(fit, life.fraction, drop);
        expect(apart(lifeAt(fit, life.fraction), life.hours)).toBeLessThan(tolerance);
        expect(apart(ours.lower!, life.lower)).toBeLessThan(tolerance);
        expect(apart(ours.upper!, life.upper)).toBeLessThan(tolerance);
      }
    });
  }
});

describe("boundOverRegion(fit, quantity, drop)", () => {
  it("gives the profile bounds of shape, scale and lives, by another way", () => {
    for (const name of ["bearing-cage", "heat-exchanger", "cosmesis", "retirement-home"]) {
      const fit = fitted(dataTable(name));
      const shape = boundOverRegion(fit, (p) => p.shape, drop);
      const scale = boundOverRegion(fit, (p) => p.scaleHours, drop);
      const life = boundOverRegion(fit, (p) => lifeAt(p, 0.1), drop);
      for (const [ours, other] of [
        [shape, shapeBounds(fit, drop)],
        [scale, scaleBounds(fit, drop)],
        [life, lifeBounds(fit, 0.1, drop)],
      ] as const) {
        expect(apart(ours.lower!, other.lower!)).toBeLessThan(1e-7);
        expect(apart(ours.upper!, other.upper!)).toBeLessThan(1e-7);
      }
    }
  });

  it("the chance of an event by t is bounded by the p whose life bounds are t", () => {
    const fit = fitted(dataTable("bearing-cage"));
    const chance = boundOverRegion(fit, (p) => -Math.expm1(-((1000 / p.scaleHours) ** p.shape)), drop);
    expect(apart(lifeBounds(fit, chance.upper!, drop).lower!, 1000)).toBeLessThan(1e-6);
    expect(apart(lifeBounds(fit, chance.lower!, drop).upper!, 1000)).toBeLessThan(1e-6);
  });

  it("a quantity with a step reaches over the step wherever the region does", () => {
    const fit = fitted(dataTable("heat-exchanger"));
    const { lower } = lifeBounds(fit, 0.1, drop);
    const step = (limit: number) => boundOverRegion(fit, (p) => (lifeAt(p, 0.1) < limit ? 1 : 0), drop);
    expect(step(lower! * 1.02)).toMatchObject({ lower: 0, upper: 1 });
    expect(step(lower! * 0.98)).toMatchObject({ lower: 0, upper: 0 });
  });

  it("a wider drop never narrows a bound", () => {
    const fit = fitted(dataTable("cosmesis"));
    const narrow = boundOverRegion(fit, (p) => lifeAt(p, 0.5), oneSidedDrop(0.9));
    const wide = boundOverRegion(fit, (p) => lifeAt(p, 0.5), oneSidedDrop(0.95));
    expect(wide.lower!).toBeLessThan(narrow.lower!);
    expect(wide.upper!).toBeGreaterThan(narrow.upper!);
  });
});

describe("survivalBounds(region)", () => {
  it("gives what a fine search over the region does, at any hours, from few slices", () => {
    for (const name of ["bearing-cage", "heat-exchanger", "cosmesis", "retirement-home"]) {
      const fit = fitted(dataTable(name));
      const boundsAt = survivalBounds(traceRegion(fit, drop, 60));
      for (const fraction of [0.01, 0.1, 0.5, 0.9]) {
        const hours = lifeAt(fit, fraction);
        const ours = boundsAt(hours);
        const fine = boundOverRegion(fit, (p) => Math.exp(-((hours / p.scaleHours) ** p.shape)), drop);
        expect(apart(Math.log(ours.lower!), Math.log(fine.lower!))).toBeLessThan(3e-4);
        expect(apart(Math.log(ours.upper!), Math.log(fine.upper!))).toBeLessThan(3e-4);
      }
    }
  });
});

describe("bounds that aren't there", () => {
  const running = Number.POSITIVE_INFINITY;
  // Lives seen only from a late entry: a hazard falling as c/t, which is shape 0, explains them nearly as well.
  const late = lifeTable([
    { entryHours: 10, lowerHours: 12, upperHours: 12 },
    { entryHours: 10, lowerHours: 20, upperHours: 20 },
    { entryHours: 100, lowerHours: 110, upperHours: 110 },
    { entryHours: 100, lowerHours: 190, upperHours: 190 },
    { entryHours: 50, lowerHours: 100, upperHours: running },
  ]);
  it("a shape that may be as near 0 as one likes has no lower bound", () => {
    const fit = fitted(late);
    expect(shapeBounds(fit, drop)).toMatchObject({ lower: null, unbounded: "lower" });
    expect(boundOverRegion(fit, (p) => p.shape, drop)).toMatchObject({ lower: null, unbounded: "lower" });
    expect(shapeBounds(fit, drop).upper).toBeGreaterThan(fit.shape);
    // Far before the first entry nothing tells survival from 0.
    expect(survivalBounds(traceRegion(fit, drop, 60))(1e-3).lower ?? 0).toBeLessThan(1e-3);
  });

  it("a scale that nothing keeps from growing has no upper bound", () => {
    const fit = fitted(
      lifeTable([
        { lowerHours: 0, upperHours: 100, count: 2 },
        { lowerHours: 100, upperHours: 200, count: 1 },
        { lowerHours: 200, upperHours: running, count: 60 },
      ]),
    );
    expect(scaleBounds(fit, drop)).toMatchObject({ upper: null, unbounded: "upper" });
    expect(scaleBounds(fit, drop).lower).toBeGreaterThan(200);
  });
});

describe("oneSidedDrop(confidence)", () => {
  it("is the chi-squared quantile of 2C - 1: 2.705543 at 0.95 (normal quantile 1.644854 squared)", () => {
    expect(oneSidedDrop(0.95)).toBeCloseTo(1.6448536269514722 ** 2, 10);
    expect(twoSidedDrop(0.95)).toBeCloseTo(3.841458820694124, 10);
    expect(() => oneSidedDrop(0.5)).toThrow(RangeError);
  });
});
