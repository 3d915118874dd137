/** Life models on a handful of rows whose answers are formulas. */
import { describe, expect, it } from "vitest";
import { weibullLikelihood } from "../../src/life/likelihood-terms.ts";
import { survivalCurve } from "../../src/life/survival-curve.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { logLikelihoodAt } from "../../src/life/weibull-likelihood.ts";
import { type LifeRow, lifeTable } from "../../src/records/life-table.ts";

const running = Number.POSITIVE_INFINITY;

/** Log-likelihood of one life at shape 2, scale 10 h. */
function logLikelihood(row: LifeRow): number {
  const data = weibullLikelihood(lifeTable([row]));
  return logLikelihoodAt(data, 2 * (data.centre - Math.log(10)), 2);
}
const S = (hours: number) => Math.exp(-((hours / 10) ** 2));

describe("what one life says, at shape 2 and scale 10 h", () => {
  //   0----|----x            event at 8 h exactly
  it("an exact event adds log f(8), f = shape/scale (t/scale)^(shape-1) S", () => {
    const density = (2 / 10) * (8 / 10) * S(8);
    expect(logLikelihood({ lowerHours: 8, upperHours: 8 })).toBeCloseTo(Math.log(density), 12);
  });

  //   0----o====x            good at 4 h, found over at 8 h
  it("an event between two looks adds log(S(4) - S(8))", () => {
    expect(logLikelihood({ lowerHours: 4, upperHours: 8 })).toBeCloseTo(Math.log(S(4) - S(8)), 12);
  });

  //   0=========x            found over at its first look, 8 h
  it("an event before the first look adds log(1 - S(8))", () => {
    expect(logLikelihood({ lowerHours: 0, upperHours: 8 })).toBeCloseTo(Math.log(1 - S(8)), 12);
  });

  //   0----o-------->        good at its last look, 4 h
  it("a running life adds log S(4), whatever was flown since", () => {
    expect(logLikelihood({ lowerHours: 4, upperHours: running })).toBeCloseTo(Math.log(S(4)), 12);
  });

  //   ....[L---o====x        records begin at 3 h
  it("late entry takes log S(3) off: the life counts only given that it got there", () => {
    const late = logLikelihood({ entryHours: 3, lowerHours: 4, upperHours: 8 });
    expect(late).toBeCloseTo(Math.log((S(4) - S(8)) / S(3)), 12);
  });

  //   ....[L========x        over at the first look after the records begin
  it("a first look already over adds [S(L) - S(found)]/S(L)", () => {
    const late = logLikelihood({ entryHours: 3, lowerHours: 3, upperHours: 8 });
    expect(late).toBeCloseTo(Math.log((S(3) - S(8)) / S(3)), 12);
  });

  //   ....[L o-->            entered and last seen at the same look
  it("a life whose only look is its entry says nothing", () => {
    expect(logLikelihood({ entryHours: 5, lowerHours: 5, upperHours: running })).toBe(0);
  });
});

describe("fitWeibull(table) with an answer on paper", () => {
  it("events in (0, a] and (a, 2a]: shape and scale make S(a) and S(2a) the shares that survived", () => {
    // 100 lives: 10 over by 500 h, 26 of the 90 by 1000 h. S(500) = 0.9, S(1000) = 0.64: a Weibull goes through both.
    const fit = fitWeibull(
      lifeTable([
        { lowerHours: 0, upperHours: 500, count: 10 },
        { lowerHours: 500, upperHours: 1000, count: 26 },
        { lowerHours: 1000, upperHours: running, count: 64 },
      ]),
    );
    if (fit.kind !== "fitted") throw new Error(fit.why);
    const shape = Math.log2(Math.log(0.64) / Math.log(0.9));
    expect(fit.shape).toBeCloseTo(shape, 10);
    expect(fit.scaleHours).toBeCloseTo(500 / (-Math.log(0.9)) ** (1 / shape), 6);
    expect(fit.logLikelihood).toBeCloseTo(10 * Math.log(0.1) + 26 * Math.log(0.26) + 64 * Math.log(0.64), 10);
  });

  it("two exact lives a and b: the score equation, with the scale from the power mean", () => {
    const [a, b] = [100, 200];
    const fit = fitWeibull(lifeTable([a, b].map((hours) => ({ lowerHours: hours, upperHours: hours }))));
    if (fit.kind !== "fitted") throw new Error(fit.why);
    const [pa, pb] = [a ** fit.shape, b ** fit.shape];
    const score = (pa * Math.log(a) + pb * Math.log(b)) / (pa + pb) - 1 / fit.shape;
    expect(score).toBeCloseTo((Math.log(a) + Math.log(b)) / 2, 10);
    expect(fit.scaleHours).toBeCloseTo(((pa + pb) / 2) ** (1 / fit.shape), 8);
  });
});

describe("survivalCurve(table) with an answer on paper", () => {
  const survival = (rows: readonly LifeRow[]) => {
    const curve = survivalCurve(lifeTable(rows));
    if (curve.kind === "none") throw new Error(curve.why);
    return curve;
  };

  it("Kaplan-Meier with a late entry: at 10 h two are at risk, at 20 h two again", () => {
    const curve = survival([
      { lowerHours: 10, upperHours: 10 },
      { lowerHours: 20, upperHours: 20 },
      { entryHours: 15, lowerHours: 30, upperHours: running },
    ]);
    expect(curve.points.map((point) => point.survival)).toEqual([
      expect.closeTo(1 / 2, 12),
      expect.closeTo(1 / 4, 12),
    ]);
  });

  it("a life that enters at the very hours of an event wasn't at risk of it; one censored there was", () => {
    const curve = survival([
      { lowerHours: 10, upperHours: 10 },
      { entryHours: 10, lowerHours: 40, upperHours: running },
      { lowerHours: 10, upperHours: running },
      { lowerHours: 30, upperHours: running },
    ]);
    expect(curve.points[0]!.survival).toBeCloseTo(2 / 3, 12);
  });

  it("the first lives all end before the next begin: the curve starts anew, and says so", () => {
    const curve = survival([
      { lowerHours: 10, upperHours: 10 },
      { entryHours: 12, lowerHours: 20, upperHours: 20 },
      { entryHours: 12, lowerHours: 25, upperHours: 25 },
      { entryHours: 12, lowerHours: 30, upperHours: running },
    ]);
    expect(curve.givenHours).toBe(12);
    expect(curve.points.map((point) => [point.hours, point.survival])).toEqual([
      [20, expect.closeTo(2 / 3, 12)],
      [25, expect.closeTo(1 / 3, 12)],
    ]);
    expect(curve.cautions[0]).toContain("starts at 12 h");
  });

  it("(0, 2] and (1, 3]: all mass in their overlap (1, 2]", () => {
    const curve = survival([
      { lowerHours: 0, upperHours: 2 },
      { lowerHours: 1, upperHours: 3 },
    ]);
    expect(curve.points).toMatchObject([{ fromHours: 1, hours: 2, survival: 0 }]);
  });

  it("yearly looks at all tubes: S(2) = (1 - 1/100)(1 - 2/99)", () => {
    const curve = survival([
      { lowerHours: 0, upperHours: 1, count: 1 },
      { lowerHours: 1, upperHours: 2, count: 2 },
      { lowerHours: 2, upperHours: running, count: 97 },
    ]);
    expect(curve.points[1]!.survival).toBeCloseTo((99 / 100) * (97 / 99), 12);
    // Binomial: standard error of 97/100, and the log-log bounds from it.
    expect(curve.points[1]!.standardError!).toBeCloseTo(Math.sqrt((0.97 * 0.03) / 100), 9);
  });
});
