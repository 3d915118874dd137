import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { weibullLikelihood } from "../../src/life/likelihood-terms.ts";
import { type FittedWeibull, fitWeibull } from "../../src/life/weibull-fit.ts";
import { likelihoodAt, logLikelihoodAt } from "../../src/life/weibull-likelihood.ts";
import { seededRandom } from "../../src/math/random.ts";
import { type LifeRow, lifeTable } from "../../src/records/life-table.ts";
import { randomLives } from "./random-lives.ts";
import { apart, dataTable, reference } from "./reference-data.ts";

const running = Number.POSITIVE_INFINITY;

function fitted(rows: readonly LifeRow[]): FittedWeibull {
  const result = fitWeibull(lifeTable(rows));
  if (result.kind !== "fitted") throw new Error(result.why);
  return result;
}

describe("fitWeibull(table) against R survival (reference/life.json)", () => {
  for (const entry of reference.weibull) {
    it(`${entry.data}, ${entry.group}`, () => {
      const ours = fitWeibull(dataTable(entry.data, entry.group));
      if (ours.kind !== "fitted") throw new Error(ours.why);
      const late = entry.data === "retirement-home";
      const tolerance = reference.tolerance;
      expect(ours.lives).toBe(entry.lives);
      expect(apart(ours.shape, entry.shape)).toBeLessThan(late ? tolerance.late : tolerance.estimate);
      expect(apart(ours.scaleHours, entry.scale)).toBeLessThan(late ? tolerance.late : tolerance.estimate);
      expect(apart(ours.logLikelihood, entry.logLikelihood)).toBeLessThan(1e-9);
      const forErrors = late ? 1e-4 : tolerance.standardError;
      expect(apart(ours.shapeStandardError, entry.shapeStandardError)).toBeLessThan(forErrors);
      expect(apart(ours.scaleStandardErrorHours, entry.scaleStandardError)).toBeLessThan(forErrors);
      expect(Math.abs(ours.covariance.both - entry.covariance.both)).toBeLessThan(
        forErrors * Math.sqrt(entry.covariance.logScale * entry.covariance.logShape),
      );
    });
  }
});

describe("fitWeibull(table) against published values", () => {
  it("bearing cage, 6 failures of 1703: shape 2.035, scale 11792 (Meeker and Escobar 1998, 8.4; from memory)", () => {
    const ours = fitWeibull(dataTable("bearing-cage"));
    expect(ours).toMatchObject({ kind: "fitted", lives: 1703, events: 6 });
    if (ours.kind !== "fitted") return;
    expect(ours.shape).toBeCloseTo(2.035, 3);
    expect(ours.scaleHours).toBeCloseTo(11792, 0);
  });

  it("20 units, 10 failures: NIST/SEMATECH e-Handbook 8.4.1.3 (scale 606.5280, shape 1.7208, log-likelihood -75.135)", () => {
    const ours = fitWeibull(dataTable("nist-8-4-1-3"));
    if (ours.kind !== "fitted") throw new Error(ours.why);
    expect(ours.scaleHours).toBeCloseTo(606.528, 3);
    expect(ours.shape).toBeCloseTo(1.7208, 4);
    expect(ours.logLikelihood).toBeCloseTo(-75.135, 3);
  });

  it("ignoring late entry in the retirement home inflates the shape from 8.83 to 14.61 (R optim on the same data)", () => {
    const table = dataTable("retirement-home");
    const naive = fitWeibull({ ...table, entryHours: new Float64Array(table.rows) });
    const proper = fitWeibull(table);
    if (naive.kind !== "fitted" || proper.kind !== "fitted") throw new Error("no fit");
    expect(naive.shape).toBeCloseTo(14.60696694, 5);
    expect(naive.scaleHours).toBeCloseTo(1092.18574, 3);
    expect(proper.shape).toBeCloseTo(8.832366523, 5);
  });
});

describe("fitWeibull(table) by equivalences", () => {
  const rows: LifeRow[] = [
    { lowerHours: 120, upperHours: 120 },
    { lowerHours: 300, upperHours: 450, count: 2 },
    { lowerHours: 0, upperHours: 200 },
    { entryHours: 100, lowerHours: 500, upperHours: running, count: 3 },
    { entryHours: 50, lowerHours: 260, upperHours: 260 },
  ];

  it("counts are repeats", () => {
    const repeated = rows.flatMap((row) =>
      Array.from({ length: row.count ?? 1 }, () => ({ ...row, count: 1 })),
    );
    const a = fitted(rows);
    const b = fitted(repeated);
    expect(apart(a.shape, b.shape)).toBeLessThan(1e-10);
    expect(apart(a.scaleHours, b.scaleHours)).toBeLessThan(1e-10);
  });

  it("hours in another unit scale the scale and leave the shape, from 1e-6 to 1e6 times", () => {
    const a = fitted(rows);
    for (const unit of [1e-6, 1e-3, 60, 1e6]) {
      const b = fitted(
        rows.map((row) => ({
          ...row,
          entryHours: (row.entryHours ?? 0) * unit,
          lowerHours: row.lowerHours * unit,
          upperHours: row.upperHours * unit,
        })),
      );
      expect(apart(b.shape, a.shape)).toBeLessThan(1e-9);
      expect(apart(b.scaleHours, a.scaleHours * unit)).toBeLessThan(1e-9);
    }
  });

  it("a life split in two, the second entering where the first is censored, is the same life", () => {
    const whole = fitted(rows);
    const split = fitted([
      ...rows.slice(0, 3),
      { entryHours: 100, lowerHours: 320, upperHours: running, count: 3 },
      { entryHours: 320, lowerHours: 500, upperHours: running, count: 3 },
      ...rows.slice(4),
    ]);
    expect(apart(split.shape, whole.shape)).toBeLessThan(1e-10);
    expect(apart(split.logLikelihood, whole.logLikelihood)).toBeLessThan(1e-12);
  });

  it("derivatives agree with differences of the value, for every kind of life", () => {
    const data = weibullLikelihood(lifeTable(rows));
    const h = 1e-5;
    for (const [alpha, beta] of [
      [0.3, 1.4],
      [-2, 0.6],
      [1.5, 6],
    ] as const) {
      const at = likelihoodAt(data, alpha, beta);
      const byAlpha =
        (logLikelihoodAt(data, alpha + h, beta) - logLikelihoodAt(data, alpha - h, beta)) / (2 * h);
      const byBeta =
        (logLikelihoodAt(data, alpha, beta + h) - logLikelihoodAt(data, alpha, beta - h)) / (2 * h);
      const up = likelihoodAt(data, alpha, beta + h);
      const down = likelihoodAt(data, alpha, beta - h);
      const right = likelihoodAt(data, alpha + h, beta);
      const left = likelihoodAt(data, alpha - h, beta);
      expect(at.value).toBeCloseTo(logLikelihoodAt(data, alpha, beta), 10);
      expect(at.gradAlpha).toBeCloseTo(byAlpha, 4);
      expect(at.gradBeta).toBeCloseTo(byBeta, 4);
      expect(at.hessBetaBeta).toBeCloseTo((up.gradBeta - down.gradBeta) / (2 * h), 4);
      expect(at.hessAlphaBeta).toBeCloseTo((up.gradAlpha - down.gradAlpha) / (2 * h), 4);
      expect(at.hessAlphaAlpha).toBeCloseTo((right.gradAlpha - left.gradAlpha) / (2 * h), 4);
    }
  });
});

describe("fitWeibull(table) where there is no fit", () => {
  const reasonFor = (rows: LifeRow[]) => {
    const result = fitWeibull(lifeTable(rows));
    return result.kind === "none" ? result.reason : `fitted ${result.shape}`;
  };
  it("no lives, no events, one event, all at one time", () => {
    expect(reasonFor([])).toBe("no-lives");
    expect(reasonFor([{ lowerHours: 10, upperHours: running, count: 50 }])).toBe("no-events");
    expect(
      reasonFor([
        { lowerHours: 10, upperHours: 12 },
        { lowerHours: 40, upperHours: running },
      ]),
    ).toBe("one-event");
    expect(
      reasonFor([
        { lowerHours: 10, upperHours: 10, count: 4 },
        { lowerHours: 5, upperHours: running },
      ]),
    ).toBe("events-at-one-time");
  });

  it("likelihoods without a single maximum", () => {
    // All found at one look, the rest good at that look: the steeper the better.
    const steep = [
      { lowerHours: 100, upperHours: 200, count: 3 },
      { lowerHours: 200, upperHours: running, count: 2 },
    ];
    // All over at the first look, none later: the flatter the better.
    const flat = [
      { lowerHours: 0, upperHours: 100, count: 3 },
      { lowerHours: 200, upperHours: running, count: 2 },
    ];
    // One look only: S(100) is all that shows, so a ridge.
    const ridge = [
      { lowerHours: 0, upperHours: 100, count: 3 },
      { lowerHours: 100, upperHours: running, count: 2 },
    ];
    // An exact event inside everybody else's interval.
    const inside = [
      { lowerHours: 150, upperHours: 150 },
      { lowerHours: 100, upperHours: 200, count: 3 },
    ];
    for (const rows of [steep, flat, ridge, inside]) expect(reasonFor(rows)).toBe("no-maximum");
  });

  it("refuses a row that no life can have", () => {
    expect(() => fitWeibull(lifeTable([{ lowerHours: 5, upperHours: 3 }]))).toThrow(RangeError);
    expect(() => fitWeibull(lifeTable([{ lowerHours: 5, upperHours: 9, entryHours: 6 }]))).toThrow(
      RangeError,
    );
    expect(() => fitWeibull(lifeTable([{ lowerHours: 0, upperHours: 0 }]))).toThrow(RangeError);
    expect(() => fitWeibull(lifeTable([{ lowerHours: Number.NaN, upperHours: 3 }]))).toThrow(RangeError);
  });
});

describe("fitWeibull(table) on random data", () => {
  it("converges, with a zero gradient and finite errors, or says why: 2,000 data sets", () => {
    const random = seededRandom(20260401);
    const outcomes = new Map<string, number>();
    for (let i = 0; i < 2000; i++) {
      const table = randomLives(random, i % 20 === 0 ? 1000 : 60);
      const result = fitWeibull(table);
      const kind = result.kind === "fitted" ? "fitted" : result.reason;
      outcomes.set(kind, (outcomes.get(kind) ?? 0) + 1);
      if (result.kind !== "fitted") continue;
      const at = likelihoodAt(result.likelihood, result.alpha, result.beta);
      const scale = 1e-7 * (1 + result.lives);
      expect(Math.abs(at.gradAlpha)).toBeLessThan(scale);
      expect(Math.abs(at.gradBeta * result.beta)).toBeLessThan(scale);
      const numbers = [
        result.shape,
        result.scaleHours,
        result.shapeStandardError,
        result.scaleStandardErrorHours,
      ];
      expect(numbers.every((value) => Number.isFinite(value) && value > 0)).toBe(true);
    }
    expect(outcomes.get("not-converged") ?? 0).toBe(0);
    expect(outcomes.get("fitted")).toBeGreaterThan(800);
  });

  it("the estimate is the best point nearby, whatever the rows (fast-check)", () => {
    const life = fc.record({
      at: fc.double({ min: 1, max: 1000, noNaN: true }),
      width: fc.constantFrom(0, 50, Number.POSITIVE_INFINITY),
      entry: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(life, { minLength: 3, maxLength: 12 }), (lives) => {
        const rows = lives.map(({ at, width, entry }) => ({
          entryHours: entry < 0.5 ? 0 : entry * at * 0.9,
          lowerHours: at,
          upperHours: at + width,
        }));
        const result = fitWeibull(lifeTable(rows));
        if (result.kind === "none") return;
        for (const [da, db] of [
          [0.01, 0],
          [-0.01, 0],
          [0, 0.01],
          [0, -0.01],
        ] as const) {
          const near = logLikelihoodAt(result.likelihood, result.alpha + da, result.beta * (1 + db));
          expect(near).toBeLessThanOrEqual(result.logLikelihood + 1e-9);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
