import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { componentSlopes, componentSums } from "../../src/wear/component-sums.ts";
import { fitMixedModel, type MixedModel } from "../../src/wear/mixed-model.ts";
import { criterionAt, crossProducts } from "../../src/wear/reml-criterion.ts";
import { readSet, wearTable } from "./read-set.ts";

interface ReferenceSet {
  set: string;
  log_likelihood: number;
  df: number;
  intercept: number[];
  rate_per_1000h: number[];
  sd_intercept: number;
  sd_rate_per_1000h: number;
  correlation: number;
  sd_measurement: number;
}

const reference: { sets: ReferenceSet[] } = JSON.parse(
  readFileSync(new URL("../reference/wear.json", import.meta.url), "utf8"),
);
const setOf = (name: string) => reference.sets.find((set) => set.set === name)!;

function fitted(name: string): MixedModel {
  const fit = fitMixedModel(componentSums(readSet(name)));
  if (fit.kind !== "fitted") throw new Error(`${name}: ${fit.why}`);
  return fit;
}

const near = (value: number, expected: number, relative: number) =>
  expect(Math.abs(value - expected), `${value} against ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );

describe("fitMixedModel(sums, confidence)", () => {
  it("agrees with the published sleepstudy fit (Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1))", () => {
    const fit = fitted("sleepstudy");
    expect(fit.interceptMm.estimate.toFixed(3)).toBe("251.405");
    expect(fit.interceptMm.standardError.toFixed(3)).toBe("6.825");
    expect((fit.rateMmPer1000Hours.estimate / 1000).toFixed(3)).toBe("10.467");
    expect((fit.rateMmPer1000Hours.standardError / 1000).toFixed(3)).toBe("1.546");
    expect((-2 * fit.logLikelihood).toFixed(1)).toBe("1743.6");
    // The paper prints 612.09 for the intercept's variance; lme4's default search stops at 612.10015802, nlme at 612.0899.
    expect((fit.componentSd.interceptMm ** 2).toFixed(2)).toBe("612.09");
    expect(((fit.componentSd.rateMmPer1000Hours / 1000) ** 2).toFixed(2)).toBe("35.07");
    expect((fit.measurementSdMm ** 2).toFixed(2)).toBe("654.94");
    expect(fit.componentSd.correlation!.toFixed(2)).toBe("0.07");
    // More digits from lme4 (REML), recomputed.
    near(-2 * fit.logLikelihood, 1743.62827, 1e-8);
    near(fit.fixedCovariance, -1.45108842, 1e-5);
    expect(fit.boundary).toBe("none");
  });

  for (const name of ["sleepstudy", "wear-unbalanced"]) {
    it(`agrees with nlme to 6 digits on ${name} (reference/wear.json)`, () => {
      const fit = fitted(name);
      const expected = setOf(name);
      near(fit.logLikelihood, expected.log_likelihood, 1e-9);
      expect(fit.degreesOfFreedom).toBe(expected.df);
      const values = (e: MixedModel["interceptMm"]) => [e.estimate, e.standardError, e.lower, e.upper];
      for (const [k, value] of values(fit.interceptMm).entries()) near(value, expected.intercept[k]!, 1e-6);
      for (const [k, value] of values(fit.rateMmPer1000Hours).entries()) {
        near(value, expected.rate_per_1000h[k]!, 1e-6);
      }
      near(fit.componentSd.interceptMm, expected.sd_intercept, 2e-6);
      near(fit.componentSd.rateMmPer1000Hours, expected.sd_rate_per_1000h, 1e-6);
      near(fit.componentSd.correlation!, expected.correlation, 1e-5);
      near(fit.measurementSdMm, expected.sd_measurement, 1e-6);
    });
  }

  for (const name of ["wear-no-slope-variance", "wear-correlation-one"]) {
    it(`is nowhere below nlme's likelihood on the nearly singular ${name}, and says where the fit lies`, () => {
      const fit = fitted(name);
      const expected = setOf(name);
      expect(fit.logLikelihood).toBeGreaterThan(expected.log_likelihood - 1e-6);
      expect(fit.logLikelihood).toBeLessThan(expected.log_likelihood + 0.02);
      near(fit.rateMmPer1000Hours.estimate, expected.rate_per_1000h[0]!, 2e-3);
      near(fit.rateMmPer1000Hours.standardError, expected.rate_per_1000h[1]!, 3e-2);
      expect(fit.boundary).not.toBe("none");
      expect(fit.cautions).toHaveLength(1);
    });
  }

  it("equals the mean and spread of per-component slopes on balanced data (identity)", () => {
    const sums = componentSums(readSet("sleepstudy"));
    const slopes = componentSlopes(sums).map((slope) => slope!);
    const mean = slopes.reduce((a, b) => a + b, 0) / slopes.length;
    const sd = Math.sqrt(slopes.reduce((a, b) => a + (b - mean) ** 2, 0) / (slopes.length - 1));
    const fit = fitted("sleepstudy");
    near(fit.rateMmPer1000Hours.estimate, 1000 * mean, 1e-10);
    near(fit.rateMmPer1000Hours.standardError, (1000 * sd) / Math.sqrt(slopes.length), 1e-7);
  });

  it("does not change with the order of rows, and scales with the unit of wear", () => {
    const table = readSet("wear-unbalanced");
    const order = Array.from({ length: table.rows }, (_, row) => (row * 83) % table.rows);
    const rows = order.map((row) => [table.component[row]!, table.hours[row]!, table.wearMm[row]! * 1000]);
    const fit = fitMixedModel(componentSums(wearTable(rows as [number, number, number][])));
    if (fit.kind !== "fitted") throw new Error(fit.why);
    const plain = fitted("wear-unbalanced");
    near(fit.rateMmPer1000Hours.estimate, 1000 * plain.rateMmPer1000Hours.estimate, 1e-8);
    near(fit.componentSd.rateMmPer1000Hours, 1000 * plain.componentSd.rateMmPer1000Hours, 1e-6);
    near(fit.logLikelihood, plain.logLikelihood - (table.rows - 2) * Math.log(1000), 1e-9);
  });

  it("keeps its digits when the hours lie far from zero", () => {
    const table = readSet("wear-unbalanced");
    const far = { ...table, hours: table.hours.map((hours) => hours + 1e5) };
    const fit = fitMixedModel(componentSums(far));
    if (fit.kind !== "fitted") throw new Error(fit.why);
    near(fit.rateMmPer1000Hours.estimate, fitted("wear-unbalanced").rateMmPer1000Hours.estimate, 1e-5);
    near(fit.logLikelihood, fitted("wear-unbalanced").logLikelihood, 1e-7);
  });

  it("says why there is no fit", () => {
    const one = wearTable([
      ["a", 100, 0.1],
      ["a", 200, 0.2],
      ["a", 300, 0.31],
    ]);
    expect(fitMixedModel(componentSums(one)).kind).toBe("too-few");
    const single = wearTable([
      ["a", 100, 0.1],
      ["b", 200, 0.2],
      ["c", 300, 0.31],
    ]);
    expect(fitMixedModel(componentSums(single)).kind).toBe("too-few");
    const sameHours = wearTable([
      ["a", 100, 0.1],
      ["a", 100, 0.2],
      ["b", 100, 0.31],
      ["b", 100, 0.21],
    ]);
    expect(fitMixedModel(componentSums(sameHours))).toMatchObject({ kind: "too-few", why: /do not differ/ });
    const exact = wearTable([
      ["a", 100, 0.25],
      ["a", 200, 0.5],
      ["b", 100, 0.25],
      ["b", 200, 0.5],
    ]);
    expect(fitMixedModel(componentSums(exact)).kind).toBe("not-converged");
  });
});

describe("criterionAt(data, relative)", () => {
  it("has the gradient that differences give", () => {
    const data = crossProducts(componentSums(readSet("wear-unbalanced")))!;
    const at = [0.3, 0.1, 0.8] as const;
    const { gradient } = criterionAt(data, at);
    for (let k = 0; k < 3; k++) {
      const moved = (step: number) => at.map((v, i) => (i === k ? v + step : v)) as [number, number, number];
      const slope = (criterionAt(data, moved(1e-6)).value - criterionAt(data, moved(-1e-6)).value) / 2e-6;
      near(gradient[k]!, slope, 1e-5);
    }
  });
});

describe("componentSums(table)", () => {
  it("equals sums written out, and skips components without readings", () => {
    const random = seededRandom(3);
    const table = {
      rows: 5,
      components: 3,
      component: Int32Array.of(2, 0, 2, 0, 2),
      hours: Float64Array.from({ length: 5 }, () => 1000 * random.uniform()),
      wearMm: Float64Array.from({ length: 5 }, () => random.uniform()),
    };
    const sums = componentSums(table);
    expect([...sums.component]).toEqual([0, 2]);
    expect([...sums.count]).toEqual([2, 3]);
    const hours = [0, 2, 4].map((row) => table.hours[row]!);
    const wear = [0, 2, 4].map((row) => table.wearMm[row]!);
    const meanH = hours.reduce((a, b) => a + b) / 3;
    const meanW = wear.reduce((a, b) => a + b) / 3;
    expect(sums.meanHours[1]).toBeCloseTo(meanH, 10);
    expect(sums.hoursWear[1]).toBeCloseTo(
      hours.reduce((total, h, k) => total + (h - meanH) * (wear[k]! - meanW), 0),
      10,
    );
    expect(sums.wearSquared[1]).toBeCloseTo(
      wear.reduce((total, w) => total + (w - meanW) ** 2, 0),
      10,
    );
  });
});
