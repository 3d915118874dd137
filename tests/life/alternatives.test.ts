import { describe, expect, it } from "vitest";
import {
  compareFamilies,
  familySurvival,
  fitExponential,
  fitLognormal,
} from "../../src/life/alternatives.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable, reference } from "./reference-data.ts";

describe("fitLognormal, fitExponential(table) against R survreg (reference/life.json)", () => {
  for (const entry of reference.weibull) {
    if (entry.lognormal === undefined || entry.exponential === undefined) continue;
    it(`${entry.data}, ${entry.group}`, () => {
      const table = dataTable(entry.data, entry.group);
      const lognormal = fitLognormal(table)!;
      const exponential = fitExponential(table)!;
      expect(apart(lognormal.logLikelihood, entry.lognormal!.logLikelihood)).toBeLessThan(1e-9);
      expect(apart(Math.log(lognormal.medianHours), entry.lognormal!.mu)).toBeLessThan(1e-5);
      expect(apart(lognormal.sigma, entry.lognormal!.sigma)).toBeLessThan(1e-5);
      expect(apart(exponential.logLikelihood, entry.exponential!.logLikelihood)).toBeLessThan(1e-9);
      expect(apart(Math.log(exponential.meanHours), entry.exponential!.mu)).toBeLessThan(1e-8);
    });
  }
});

describe("compareFamilies(table, weibull)", () => {
  it("NIST/SEMATECH e-Handbook 8.4.1.3: AIC 154.27 for the Weibull, 154.39 for the lognormal", () => {
    const table = dataTable("nist-8-4-1-3");
    const fits = compareFamilies(table, fitWeibull(table));
    expect(fits[0]!.family).toBe("weibull");
    expect(fits.find((fit) => fit.family === "weibull")!.aic).toBeCloseTo(154.27, 2);
    expect(fits.find((fit) => fit.family === "lognormal")!.aic).toBeCloseTo(154.39, 2);
  });

  it("an exponential is events over hours, also with late entry", () => {
    const table = lifeTable([
      { lowerHours: 100, upperHours: 100 },
      { entryHours: 50, lowerHours: 250, upperHours: Number.POSITIVE_INFINITY },
      { entryHours: 10, lowerHours: 110, upperHours: 110 },
    ]);
    const fit = fitExponential(table)!;
    expect(fit.meanHours).toBeCloseTo(400 / 2, 9);
    expect(familySurvival(fit)(200)).toBeCloseTo(Math.exp(-1), 12);
  });

  it("late entry leaves a lognormal's likelihood what it is given survival to entry", () => {
    const rows = [120, 260, 310, 480, 95].map((hours) => ({ lowerHours: hours, upperHours: hours }));
    const fit = fitLognormal(lifeTable(rows))!;
    // A life split at 200 h is the same life.
    const split = fitLognormal(
      lifeTable([
        ...rows.slice(0, 3),
        { lowerHours: 200, upperHours: Number.POSITIVE_INFINITY },
        { entryHours: 200, lowerHours: 480, upperHours: 480 },
        ...rows.slice(4),
      ]),
    )!;
    expect(split.logLikelihood).toBeCloseTo(fit.logLikelihood, 9);
    expect(split.sigma).toBeCloseTo(fit.sigma, 5);
  });

  it("no events: no family", () => {
    const table = lifeTable([{ lowerHours: 100, upperHours: Number.POSITIVE_INFINITY, count: 9 }]);
    expect(compareFamilies(table, fitWeibull(table))).toEqual([]);
  });
});
