import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { fitPowerLaw } from "../../src/trend/power-law.ts";
import { laplaceTest, militaryHandbookTest } from "../../src/trend/trend-tests.ts";

// NIST/SEMATECH e-Handbook 8.2.3.4 and 8.4.5.2, case study 1: repairs of one system, observed for 1500 h.
const NIST = { eventHours: [5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478], observedHours: 1500 };
// MIL-HDBK-189 (1981), appendix C: 27 failures in 300 h (data from memory; they give the handbook's printed results).
const HANDBOOK = {
  eventHours: [
    2.6, 16.5, 16.5, 17.0, 21.4, 29.1, 33.3, 56.5, 63.1, 70.6, 73.0, 77.7, 93.9, 95.5, 98.1, 101.1, 132.0,
    142.2, 147.7, 149.0, 167.2, 190.7, 193.0, 198.7, 251.9, 282.5, 286.1,
  ],
  observedHours: 300,
};

describe("laplaceTest(systems)", () => {
  it("gives the value for NIST case study 1 (recomputed in R)", () => {
    expect(laplaceTest([NIST])).toEqual({
      kind: "tested",
      statistic: expect.closeTo(-1.326949183, 9),
      events: 10,
      pImproving: expect.closeTo(0.09226274668, 9),
      pWorsening: expect.closeTo(1 - 0.09226274668, 9),
      pTwoSided: expect.closeTo(2 * 0.09226274668, 9),
    });
  });
  it("gives the value for the handbook's data (recomputed in R)", () => {
    expect(laplaceTest([HANDBOOK])).toMatchObject({
      statistic: expect.closeTo(-2.318, 3),
      pTwoSided: expect.closeTo(0.020449321, 7),
    });
  });
  it("takes the last event as the end where nothing else is, and pools systems", () => {
    // By hand: 30 of 10 and 20 h in 40 h, against 40; variance 2·40²/12; two such systems double both.
    const one = { eventHours: [10, 20, 40], observedHours: null };
    expect(laplaceTest([one])).toEqual({ kind: "too-few-events", events: 2, needed: 3 });
    const two = laplaceTest([one, one]);
    expect(two).toMatchObject({ events: 4, statistic: expect.closeTo(-20 / Math.sqrt((4 * 1600) / 12), 12) });
  });
  it("mirrors a trend: worsening where the same events are counted back from the end", () => {
    const mirrored = { ...NIST, eventHours: NIST.eventHours.map((hour) => 1500 - hour) };
    expect(laplaceTest([mirrored])).toMatchObject({ pWorsening: expect.closeTo(0.09226274668, 9) });
  });
});

describe("militaryHandbookTest(systems)", () => {
  it("gives the values for NIST case study 1 and for the handbook's data (recomputed in R)", () => {
    expect(militaryHandbookTest([NIST])).toMatchObject({
      statistic: expect.closeTo(37.22808148, 7),
      pImproving: expect.closeTo(0.01098635712, 9),
    });
    expect(militaryHandbookTest([HANDBOOK])).toMatchObject({
      statistic: expect.closeTo(75.383276, 6),
      pImproving: expect.closeTo(0.028864693, 8),
    });
  });
  it("rejects a constant rate in about one case of twenty where the rate is constant (seeded)", () => {
    const random = seededRandom(5);
    let rejected = 0;
    for (let i = 0; i < 2000; i++) {
      const eventHours = Array.from({ length: 8 }, () => 1000 * random.uniform());
      const test = militaryHandbookTest([{ eventHours, observedHours: 1000 }]);
      if (test.kind === "tested" && test.pTwoSided < 0.05) rejected++;
    }
    // 100 expected, standard deviation 9.7.
    expect(rejected).toBeGreaterThan(60);
    expect(rejected).toBeLessThan(140);
  });
  it("refuses events outside the observation, and says where there are none", () => {
    expect(() => militaryHandbookTest([{ eventHours: [5, 20], observedHours: 10 }])).toThrow(RangeError);
    expect(() => laplaceTest([{ eventHours: [0], observedHours: 10 }])).toThrow(RangeError);
    expect(militaryHandbookTest([{ eventHours: [], observedHours: 10 }])).toEqual({
      kind: "too-few-events",
      events: 0,
      needed: 1,
    });
  });
});

describe("fitPowerLaw(system, confidence)", () => {
  it("gives the modified estimate of NIST 8.4.5.2 as the page's R script prints it, and its 80 % limits", () => {
    const fit = fitPowerLaw(NIST, 0.8);
    expect(fit).toMatchObject({
      kind: "fitted",
      modified: {
        shape: expect.closeTo(0.4835059794, 10),
        scalePerHour: expect.closeTo(0.2913002686, 9),
        meanHoursBetweenAtEnd: expect.closeTo(310.2340124, 6),
      },
      meanHoursBetweenLower: expect.closeTo(157.713834, 5),
      meanHoursBetweenUpper: expect.closeTo(548.556598, 5),
    });
  });
  it("gives the plain maximum-likelihood estimate of the same data (recomputed in R)", () => {
    expect(fitPowerLaw(NIST, 0.8)).toMatchObject({
      maximumLikelihood: {
        shape: expect.closeTo(0.537228866, 9),
        scalePerHour: expect.closeTo(0.1966582157, 9),
        meanHoursBetweenAtEnd: expect.closeTo(279.2106111, 6),
      },
    });
  });
  it("gives MIL-HDBK-189's example: 0.716, 0.454, fit statistic 0.091 (printed, from memory; more digits recomputed)", () => {
    const fit = fitPowerLaw(HANDBOOK, 0.9);
    expect(fit).toMatchObject({
      maximumLikelihood: {
        shape: expect.closeTo(0.71633926, 8),
        scalePerHour: expect.closeTo(0.45384186, 8),
        ratePer1000HAtEnd: expect.closeTo(64.470534, 5),
      },
      modified: { shape: expect.closeTo(0.68980818, 8) },
      cramerVonMises: expect.closeTo(0.091061122, 8),
      shapeLower: expect.closeTo(0.50563229, 8),
      shapeUpper: expect.closeTo(0.95715151, 8),
    });
    expect(fitPowerLaw(HANDBOOK, 0.95)).toMatchObject({
      shapeLower: expect.closeTo(0.47207209, 8),
      shapeUpper: expect.closeTo(1.0107288, 7),
    });
  });
  it("covers the true shape as often as it says, time and event truncated (seeded, 2000 processes of shape 1.4)", () => {
    const random = seededRandom(9);
    let time = 0;
    let event = 0;
    for (let i = 0; i < 2000; i++) {
      // Given their number, times of a power-law process over (0, T] are T·u^(1/shape).
      const eventHours = Array.from({ length: 12 }, () => 500 * random.uniform() ** (1 / 1.4));
      const timed = fitPowerLaw({ eventHours, observedHours: 500 }, 0.9);
      const ended = fitPowerLaw({ eventHours, observedHours: null }, 0.9);
      if (timed.kind === "fitted" && timed.shapeLower < 1.4 && 1.4 < timed.shapeUpper) time++;
      if (ended.kind === "fitted" && ended.shapeLower < 1.4 && 1.4 < ended.shapeUpper) event++;
    }
    // 1800 expected, standard deviation 13.4.
    for (const covered of [time, event]) {
      expect(covered).toBeGreaterThan(1746);
      expect(covered).toBeLessThan(1854);
    }
  });
  it("says why where there is no fit, and has no upper limit where too few events leave none", () => {
    expect(fitPowerLaw({ eventHours: [1, 2], observedHours: 10 }, 0.9)).toEqual({
      kind: "too-few-events",
      events: 2,
      needed: 3,
    });
    expect(fitPowerLaw({ eventHours: [10, 10, 10], observedHours: 10 }, 0.9).kind).toBe("all-at-the-end");
    const few = fitPowerLaw({ eventHours: [1, 2, 3], observedHours: 10 }, 0.99);
    expect(few).toMatchObject({ kind: "fitted", meanHoursBetweenUpper: null });
  });
});
