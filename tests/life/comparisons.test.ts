import { describe, expect, it } from "vitest";
import { commonShape, compareLives } from "../../src/life/comparisons.ts";
import { logRank } from "../../src/life/log-rank.ts";
import { parseLifeTable } from "../../src/life/parse-life-table.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { fitWeibullRegression, lifeRatio } from "../../src/life/weibull-regression.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable, dataText, reference } from "./reference-data.ts";
import { regressionDesign } from "./reference-designs.ts";

const groupsOf = (data: string, by?: string) =>
  parseLifeTable(dataText(data), by === undefined ? {} : { by }).groups;

describe("fitWeibullRegression(table, design) against R survreg (reference/life.json)", () => {
  for (const entry of reference.regression) {
    it(`${entry.data} ~ ${entry.formula}`, () => {
      const fit = fitWeibullRegression(dataTable(entry.data), regressionDesign(entry.data));
      if (fit.kind === "none") throw new Error(fit.why);
      for (const [k, coefficient] of entry.coefficients.entries()) {
        expect(apart(fit.coefficients[k]!, coefficient)).toBeLessThan(1e-6);
        expect(apart(fit.standardErrors[k]!, entry.standardErrors[k]!)).toBeLessThan(1e-5);
      }
      expect(apart(-Math.log(fit.shape), entry.logScale)).toBeLessThan(1e-6);
      expect(apart(fit.logSigmaError, entry.standardErrors.at(-1)!)).toBeLessThan(1e-5);
      expect(fit.logLikelihood).toBeCloseTo(entry.logLikelihood, 7);
    });
  }

  it("motors at 130 C last 33813 hours (Venables and Ripley, MASS, ch. 13; from memory)", () => {
    const fit = fitWeibullRegression(dataTable("motor-insulation"), regressionDesign("motor-insulation"));
    if (fit.kind === "none") throw new Error(fit.why);
    expect(Math.exp(fit.coefficients[0]! + 130 * fit.coefficients[1]!)).toBeCloseTo(33813, 0);
  });

  it("late entry is survival to entry: a split life changes nothing", () => {
    const rows = [90, 150, 210, 340, 410, 260].map((hours) => ({ lowerHours: hours, upperHours: hours }));
    const columns = [0, 0, 0, 1, 1, 1].map((x) => [1, x]);
    const whole = fitWeibullRegression(lifeTable(rows), columns);
    const split = fitWeibullRegression(
      lifeTable([
        ...rows.slice(0, 5),
        { lowerHours: 200, upperHours: Number.POSITIVE_INFINITY },
        { entryHours: 200, lowerHours: 260, upperHours: 260 },
      ]),
      [...columns, [1, 1]],
    );
    if (whole.kind === "none" || split.kind === "none") throw new Error("no fit");
    expect(split.logLikelihood).toBeCloseTo(whole.logLikelihood, 9);
    expect(split.coefficients[1]!).toBeCloseTo(whole.coefficients[1]!, 7);
  });

  it("a group without events has no ratio, and says so", () => {
    const rows = [
      { lowerHours: 100, upperHours: 100 },
      { lowerHours: 120, upperHours: 120 },
      { lowerHours: 90, upperHours: 90 },
      { lowerHours: 200, upperHours: Number.POSITIVE_INFINITY, count: 5 },
    ];
    const fit = fitWeibullRegression(lifeTable(rows), [
      [1, 0],
      [1, 0],
      [1, 0],
      [1, 1],
    ]);
    expect(fit).toMatchObject({ kind: "none", why: expect.stringContaining("no single maximum") });
  });

  it("copies of a life in one cluster widen the clustered error to that of the lives alone", () => {
    const text = dataText("cosmesis").split("\n").slice(0, -1);
    const twice = [text[0], ...text.slice(1), ...text.slice(1)].join("\n");
    const [table] = parseLifeTable(twice.replace(",group", ",which")).groups.map((group) => group.table);
    const cluster = Int32Array.from({ length: 188 }, (_, i) => i % 94);
    const columns = [...regressionDesign("cosmesis"), ...regressionDesign("cosmesis")];
    const doubled = fitWeibullRegression({ ...table!, cluster }, columns);
    if (doubled.kind === "none") throw new Error(doubled.why);
    const ratio = doubled.clusteredErrors![1]! / doubled.standardErrors[1]!;
    expect(ratio).toBeGreaterThan(1.25);
    expect(ratio).toBeLessThan(1.6);
    const bounds = lifeRatio(doubled, 1, 0.95);
    expect(Math.log(bounds.upper / bounds.ratio) / doubled.clusteredErrors![1]!).toBeCloseTo(1.959964, 5);
  });
});

describe("commonShape(groups)", () => {
  it("three temperatures: shape 1.51838, test 1.48576 on 2 degrees, p 0.475743 (R survreg on NIST 8.4.2.2's data)", () => {
    const shared = commonShape(groupsOf("three-temperatures"));
    if (shared.kind === "none") throw new Error(shared.why);
    expect(shared.shape).toBeCloseTo(1.51837553, 6);
    expect(shared.logLikelihood).toBeCloseTo(-480.303622, 5);
    expect(shared.test!.chiSquared).toBeCloseTo(1.48575538, 5);
    expect(shared.test!.p).toBeCloseTo(0.475742903, 6);
    expect(Math.log(shared.scalesHours[0]!)).toBeCloseTo(8.86301862, 6);
  });

  it("of one group is that group's own fit", () => {
    const [group] = groupsOf("leukaemia");
    const shared = commonShape([group!]);
    const own = fitWeibull(group!.table);
    if (shared.kind === "none" || own.kind === "none") throw new Error("no fit");
    expect(shared.shape).toBeCloseTo(own.shape, 7);
    expect(apart(shared.scalesHours[0]!, own.scaleHours)).toBeLessThan(1e-7);
  });
});

describe("compareLives(of, against, confidence)", () => {
  it("leukaemia: ratio exp(1.26733) = 3.551, chi-squared 19.65 (R survreg on Gehan's data)", () => {
    const groups = groupsOf("leukaemia");
    const pick = (name: string) => groups.find((group) => group.group === name)!;
    const comparison = compareLives(pick("6-MP"), pick("control"), 0.95);
    if (comparison.kind === "none") throw new Error(comparison.why);
    expect(comparison.ratio).toBeCloseTo(Math.exp(1.26733458741908), 5);
    expect(comparison.test.chiSquared).toBeCloseTo(19.65, 2);
    expect(comparison.sentence).toBe(
      "6-MP lasts longer than control: 3.6 times as long (95 %: 1.9 to 6.5 times).",
    );
    const turned = compareLives(pick("control"), pick("6-MP"), 0.95);
    expect(turned).toMatchObject({ ratio: expect.closeTo(1 / comparison.ratio, 6) });
  });
});

describe("logRank(groups) against R survdiff (reference/life.json)", () => {
  for (const entry of reference.logRank) {
    it(`${entry.data} by ${entry.by}`, () => {
      const groups = [...groupsOf(entry.data, entry.by)].sort((a, b) => (a.group < b.group ? -1 : 1));
      const test = logRank(groups);
      if (test.kind === "none") throw new Error(test.why);
      expect(test.chiSquared).toBeCloseTo(entry.chiSquared, 8);
      for (const [g] of groups.entries()) {
        expect(test.observed[g]).toBe(entry.observed[g]);
        expect(test.expected[g]!).toBeCloseTo(entry.expected[g]!, 8);
      }
    });
  }
  it("has the published 16.8 with p 4.17e-5 for leukaemia (Freireich's data)", () => {
    const test = logRank(groupsOf("leukaemia"));
    if (test.kind === "none") throw new Error(test.why);
    expect(test.chiSquared).toBeCloseTo(16.8, 1);
    expect(test.p).toBeCloseTo(4.17e-5, 7);
  });
  it("refuses intervals instead of guessing", () => {
    expect(logRank(groupsOf("cosmesis"))).toMatchObject({ kind: "none" });
  });
});
