import { describe, expect, it } from "vitest";
import { givenShapeScale, halfwayHours, overShapes, zeroEventStatement } from "../../src/life/given-shape.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable } from "./reference-data.ts";

const running = Number.POSITIVE_INFINITY;
const handbook = dataTable("handbook-small");
const unfailed = { ...handbook, upperHours: handbook.upperHours.map(() => running) };

describe("givenShapeScale(table, shape, confidence)", () => {
  it("is (sum t^shape / r)^(1/shape) on the handbook's seven lives (formula of AFWAL-TR-83-2079, from memory)", () => {
    expect(givenShapeScale(handbook, 2, 0.9).estimateHours).toBeCloseTo(4875.75635, 4);
    expect(givenShapeScale(handbook, 3, 0.9).estimateHours).toBeCloseTo(5017.62315, 4);
  });

  it("bounds by chi-squared: 7184.874 (90 %) and 6299.056 (95 %) without events, 3579.956 with five (R qchisq)", () => {
    expect(givenShapeScale(unfailed, 2, 0.9).lowerHours).toBeCloseTo(7184.87394, 4);
    expect(givenShapeScale(unfailed, 2, 0.95).lowerHours).toBeCloseTo(6299.05642, 4);
    expect(givenShapeScale(unfailed, 2, 0.95).estimateHours).toBeCloseTo(13095.2643, 3);
    expect(givenShapeScale(unfailed, 2, 0.95).upperHours).toBeNull();
    expect(givenShapeScale(handbook, 2, 0.9).lowerHours).toBeCloseTo(3579.95587, 4);
  });

  it("with the shape of the free fit gives the scale of the free fit, for every kind of life", () => {
    for (const name of ["handbook-small", "cosmesis", "retirement-home", "heat-exchanger"]) {
      const fit = fitWeibull(dataTable(name));
      if (fit.kind !== "fitted") throw new Error(fit.why);
      const { estimateHours } = givenShapeScale(dataTable(name), fit.shape, 0.95);
      expect(apart(estimateHours!, fit.scaleHours)).toBeLessThan(1e-7);
    }
  });

  it("without events the likelihood at the lower bound has fallen to 1 - confidence, also with late entry", () => {
    const table = lifeTable([
      { entryHours: 100, lowerHours: 600, upperHours: running, count: 12 },
      { lowerHours: 350, upperHours: running, count: 5 },
    ]);
    const { lowerHours } = givenShapeScale(table, 2.5, 0.95);
    const hazard = (hours: number) => (hours / lowerHours!) ** 2.5;
    expect(Math.exp(-12 * (hazard(600) - hazard(100)) - 5 * hazard(350))).toBeCloseTo(0.05, 10);
  });
});

describe("zero-failure demonstration", () => {
  it("n = ln(1-C)/(ln R L^shape): 90/90 needs 21.854 lives to L = 1, 10.927 at L = 2 and shape 1 (MIL-HDBK-338B, from memory)", () => {
    for (const [shape, long, lives] of [
      [1, 1, 21.85434533],
      [1, 2, 10.92717266],
      [2, 1.5, 9.713042367],
      [3, 3, 0.8094201973],
    ] as const) {
      const table = lifeTable([{ lowerHours: 1000 * long, upperHours: running, count: lives }]);
      const { lowerHours } = givenShapeScale(table, shape, 0.9);
      expect(Math.exp(-((1000 / lowerHours!) ** shape))).toBeCloseTo(0.9, 8);
    }
  });

  it("zeroEventStatement says it in words: 59 lives show 95 % at 95 % confidence", () => {
    const table = lifeTable([
      { lowerHours: 600, upperHours: running, count: 59 },
      { lowerHours: 599, upperHours: running, count: 7 },
      { entryHours: 100, lowerHours: 700, upperHours: running, count: 7 },
    ]);
    const statement = zeroEventStatement(table, 600, 0.95)!;
    expect(statement.lives).toBe(59);
    expect(statement.survivalAtLeast).toBeGreaterThan(0.95);
    expect(
      zeroEventStatement(lifeTable([{ lowerHours: 600, upperHours: running, count: 58 }]), 600, 0.95)!
        .survivalAtLeast,
    ).toBeLessThan(0.95);
    expect(statement.sentence).toBe(
      "59 lives to 600 h without an event show at 95 % confidence that at least 95 % get there without one.",
    );
    expect(zeroEventStatement(handbook, 600, 0.95)).toBeNull();
    expect(zeroEventStatement(table, 800, 0.95)).toBeNull();
  });

  it("halfwayHours: where half of the lives seen from new were still looked at (by hand)", () => {
    const rows = [100, 300, 500, 900].map((lowerHours) => ({ lowerHours, upperHours: running }));
    expect(halfwayHours(lifeTable(rows))).toBe(500);
    expect(halfwayHours(lifeTable([...rows, { entryHours: 50, lowerHours: 60, upperHours: running }]))).toBe(
      500,
    );
    expect(halfwayHours(lifeTable([{ entryHours: 50, lowerHours: 60, upperHours: running }]))).toBe(0);
  });
});

describe("overShapes(table, confidence, range)", () => {
  const table = lifeTable([
    { lowerHours: 900, upperHours: running, count: 20 },
    { lowerHours: 500, upperHours: 700 },
  ]);
  const overBy = (hours: number) => (p: { shape: number; scaleHours: number }) =>
    -Math.expm1(-((hours / p.scaleHours) ** p.shape));

  it("beyond the hours seen the steepest shape is the worst, within them the flattest", () => {
    const { bounded } = overShapes(table, 0.95);
    expect(bounded(overBy(1500)).worstShape).toBe(8);
    expect(bounded(overBy(300)).worstShape).toBe(1);
  });

  it("is never below any single shape in the range", () => {
    const { events, estimated, bounded } = overShapes(table, 0.95);
    const worst = { estimate: estimated(overBy(1000)), ...bounded(overBy(1000)) };
    expect(events).toBe(1);
    for (const shape of [1, 1.7, 3, 5.5, 8]) {
      const { lowerHours, estimateHours, upperHours } = givenShapeScale(table, shape, 0.95);
      expect(worst.upper!).toBeGreaterThanOrEqual(overBy(1000)({ shape, scaleHours: lowerHours! }) - 1e-4);
      expect(worst.estimate!).toBeGreaterThanOrEqual(
        overBy(1000)({ shape, scaleHours: estimateHours! }) - 1e-4,
      );
      expect(worst.lower!).toBeLessThanOrEqual(overBy(1000)({ shape, scaleHours: upperHours! }) + 1e-4);
    }
  });

  it("without events there is an upper bound and no lower one; without exposure no bound at all", () => {
    const none = lifeTable([{ lowerHours: 900, upperHours: running, count: 20 }]);
    const { events, bounded } = overShapes(none, 0.95);
    const worst = bounded(overBy(900));
    expect(events).toBe(0);
    expect(worst.lower).toBeNull();
    // At the hours reached the shape doesn't matter: success run with 20 lives.
    expect(worst.upper!).toBeCloseTo(1 - 0.05 ** (1 / 20), 9);
    const nothing = lifeTable([{ lowerHours: 0, upperHours: running, count: 20 }]);
    expect(overShapes(nothing, 0.95).estimated(overBy(900))).toBeNull();
    expect(overShapes(nothing, 0.95).bounded(overBy(900))).toMatchObject({ lower: null, upper: null });
  });
});
