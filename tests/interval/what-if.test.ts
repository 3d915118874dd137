import { describe, expect, it } from "vitest";
import { boundAsker } from "../../src/interval/bound-asker.ts";
import { type DecisionInput, decide, type IntervalRisks } from "../../src/interval/decide.ts";
import type { GroupEvidence } from "../../src/interval/evidence.ts";
import { extensionConfidence } from "../../src/interval/history.ts";
import type { Bounded, RiskAtInterval } from "../../src/interval/month-result.ts";
import { weighed } from "../../src/interval/risks.ts";
import { type WhatIfQuestion, whatIf } from "../../src/interval/what-if.ts";
import { standardNormalQuantile } from "../../src/math/distributions.ts";
import { seededRandom } from "../../src/math/random.ts";
import { makeFleetSettings } from "../support/make-fleet-settings.ts";

const GRID = [50, 100, 150, 200, 250, 300, 350, 400, 450, 500, 550, 600, 700, 800];

describe("boundAsker({ confidence, known, upperAt })", () => {
  const upper = (confidence: number, intervalH: number) =>
    0.0001 * (intervalH / 50) ** 2 * Math.exp(standardNormalQuantile(confidence));
  const known = GRID.map((intervalH) => ({
    intervalH,
    estimate: upper(0.5, intervalH),
    atLeast: upper(0.95, intervalH),
    atMost: upper(0.95, intervalH),
  }));

  it("is on the same side of any level as the bound itself, for few bounds", () => {
    let bounds = 0;
    const ask = boundAsker({
      confidence: 0.95,
      known,
      upperAt: (confidence, intervalH, at) => {
        bounds += 1;
        const value = upper(confidence, intervalH);
        // Over the level, any number up to the bound will do.
        return value > at ? at + 0.3 * (value - at) : value;
      },
    });
    const random = seededRandom(11);
    let asked = 0;
    for (let k = 0; k < 500; k++) {
      const confidence = [0.8, 0.9, 0.95, 0.975, 0.99][random.below(5)]!;
      const intervalH = GRID[random.below(GRID.length)]!;
      const level = upper(0.95, GRID[random.below(GRID.length)]!) * (0.4 + 1.6 * random.uniform());
      asked += 1;
      expect(ask(confidence, intervalH, level)! > level).toBe(upper(confidence, intervalH) > level);
    }
    expect(asked).toBe(500);
    expect(bounds).toBeGreaterThan(5);
    expect(bounds).toBeLessThanOrEqual(5 * GRID.length);
  });

  it("computes each bound where the known ones don't rise with the interval", () => {
    const bumpy = known.map((one, k) => ({ ...one, atMost: k === 3 ? 1 : one.atMost }));
    const asked: number[] = [];
    const ask = boundAsker({
      confidence: 0.95,
      known: bumpy,
      upperAt: (_confidence, intervalH) => {
        asked.push(intervalH);
        return upper(0.99, intervalH);
      },
    });
    expect(ask(0.99, 100, 0.01)).toBe(upper(0.99, 100));
    expect(asked).toEqual([100]);
  });

  it("says that there is none where there is none", () => {
    const ask = boundAsker({
      confidence: 0.95,
      known: GRID.map((intervalH) => ({ intervalH, estimate: 0, atLeast: null, atMost: null })),
      upperAt: () => null,
    });
    expect(ask(0.95, 300, 0.1)).toBeNull();
  });
});

/** Risks in closed form, so that every bound can be had at once. */
const overLimit = (confidence: number, intervalH: number, limitMm = 0.5): number =>
  Math.min(
    1,
    0.045 * ((intervalH / 400) * (0.5 / limitMm)) ** 2 * Math.exp(0.25 * standardNormalQuantile(confidence)),
  );
const unsafe = (confidence: number, intervalH: number, limitMm = 0.5): number =>
  Math.min(
    1,
    0.0003 *
      ((intervalH / 400) * (0.3 / (0.8 - limitMm))) ** 4 *
      Math.exp(0.5 * standardNormalQuantile(confidence)),
  );

const TOLERANCE = 0.1;
const boundedOf = (risk: (confidence: number) => number, confidence: number): Bounded => ({
  estimate: risk(0.5),
  lower: risk(1 - confidence),
  upper: risk(confidence),
});

function questionAt(presentH: number): WhatIfQuestion & { readonly bounds: () => number } {
  const fleet = makeFleetSettings();
  const part = fleet.parts[0]!;
  let bounds = 0;
  const at = (confidence: number) => {
    const risk = (of: typeof overLimit, limitMm: number) => (spacingH: number) => {
      bounds += 1;
      return boundedOf((level) => of(level, spacingH / (1 + TOLERANCE), limitMm), confidence);
    };
    const share = risk(overLimit, 0.5);
    const line = {
      // The fake line doesn't look at the survival curve, but at the spacing that the share asks it for first.
      belowLimit: (limitMm: number) => {
        const spacingOf = (quantity: (survival: (hours: number) => number) => number) => {
          let first = 0;
          quantity((hours) => {
            first ||= hours;
            return 0;
          });
          return first;
        };
        return {
          bounded: (quantity: Parameters<typeof spacingOf>[0]) =>
            risk(overLimit, limitMm)(spacingOf(quantity)),
          estimated: (quantity: Parameters<typeof spacingOf>[0]) =>
            overLimit(0.5, spacingOf(quantity) / (1 + TOLERANCE), limitMm),
        };
      },
      unsafe: (setting: { replaceAtMm: number }, spacingH: number) =>
        risk(unsafe, setting.replaceAtMm)(spacingH),
    };
    return {
      wear: { kind: "line", line },
      risks: { counted: { life: share, wear: share, unsafe: risk(unsafe, 0.5) } },
    };
  };
  const evidence = {
    part,
    greatestAgeH: 0,
    unsafeSetting: { replaceAtMm: 0.5, unsafeAtMm: 0.8 },
    linesAt: at,
    roughLinesAt: at,
  } as unknown as GroupEvidence;
  const { confidence } = fleet.acceptable;
  const risks = risksAt(confidence);
  const published: DecisionInput = {
    grid: weighed(risks, fleet.acceptable, part),
    beyondPresent: () => {
      throw new Error("the what-if has its own");
    },
    presentH,
    largestChange: 0.5,
    functionalFailures: { name: "functional failures per 1000 h", acceptable: 0.01, value: null },
    firstInspectionH: 400,
    mayExtendTo: () => false,
  };
  return {
    ...{ fleet, evidence, tolerance: TOLERANCE, published, risks, review: 1 },
    failuresAt: () => null,
    mayExtendTo: (candidateH) => candidateH < 450,
    bounds: () => bounds,
  };
}

const risksAt = (confidence: number, limitMm = 0.5): RiskAtInterval[] =>
  GRID.map((intervalH) => {
    const share = boundedOf((level) => overLimit(level, intervalH, limitMm), confidence);
    return {
      intervalH,
      overLimitPerInspection: { life: share, wear: share },
      unsafeBeforeSeen: boundedOf((level) => unsafe(level, intervalH, limitMm), confidence),
    };
  });

/** The same by brute force: every bound at every interval of the grid. */
function slowly(question: WhatIfQuestion, confidence: number, factor: number, limitMm = 0.5) {
  const { fleet, evidence, published } = question;
  const acceptable = {
    ...fleet.acceptable,
    overLimitPerInspection: factor * fleet.acceptable.overLimitPerInspection,
    unsafeBeforeSeen: factor * fleet.acceptable.unsafeBeforeSeen,
  };
  const longestH = published.presentH * 1.5;
  const at = (level: number): IntervalRisks[] =>
    weighed(risksAt(level, limitMm), acceptable, evidence.part).filter(
      ({ intervalH }) => intervalH <= longestH,
    );
  const stricter = at(extensionConfidence(confidence, question.review));
  return decide({
    ...published,
    grid: at(confidence),
    beyondPresent: (intervalH) => stricter.find((one) => one.intervalH === intervalH)!,
    firstInspectionH: Number.POSITIVE_INFINITY,
    mayExtendTo: (candidateH) => question.mayExtendTo(candidateH, acceptable),
  });
}

describe("whatIf(question)", () => {
  it.each([300, 400, 500, 600])(
    "answers as the decision table does with every bound at hand, from %i h",
    (presentH) => {
      const question = questionAt(presentH);
      const found = whatIf(question)!;
      const answers = new Set<string>();
      found.confidences.forEach((confidence, c) => {
        found.riskFactors.forEach((factor, f) => {
          const { answer, recommendedH, candidateH, longestByBoundH } = slowly(question, confidence, factor);
          expect(found.answers[c]![f], `${confidence}, ${factor}`).toMatchObject({
            answer,
            recommendedH,
            candidateH,
            longestByBoundH,
          });
          answers.add(`${answer} ${recommendedH} ${longestByBoundH}`);
        });
      });
      expect(answers.size).toBeGreaterThan(1);
      // Two lines and a bound each at up to six confidences, for the whole grid, is what it spares.
      expect(question.bounds()).toBeLessThan(3 * 5 * GRID.length);
    },
  );

  it("moves the limit by the wear method alone", () => {
    const question = questionAt(300);
    const { limits } = whatIf(question)!;
    expect(limits.map(({ limitMm }) => limitMm.toFixed(3))).toEqual([
      "0.400",
      "0.450",
      "0.500",
      "0.550",
      "0.600",
    ]);
    for (const { limitMm, answer } of limits.slice(0, 3)) {
      const { recommendedH, candidateH } = slowly(question, question.fleet.acceptable.confidence, 1, limitMm);
      expect({ recommendedH: answer.recommendedH, candidateH: answer.candidateH }, `${limitMm} mm`).toEqual({
        recommendedH,
        candidateH,
      });
    }
  });

  it("has nothing to move where the present interval has no bound", () => {
    const question = questionAt(300);
    const unbounded = (value: Bounded | null) => value && { ...value, upper: null };
    const grid = question.published.grid.map((at) => ({
      ...at,
      risks: at.risks.map((risk) => ({ ...risk, value: unbounded(risk.value) })),
    }));
    expect(whatIf({ ...question, published: { ...question.published, grid } })).toBeNull();
  });

  it("never finds a longer interval at a higher confidence or a lower acceptable risk", () => {
    const { answers } = whatIf(questionAt(400))!;
    const demonstrated = answers.map((row) => row.map(({ longestByBoundH }) => longestByBoundH ?? 0));
    demonstrated.forEach((row, c) => {
      row.forEach((longestH, f) => {
        if (f > 0) expect(longestH).toBeGreaterThanOrEqual(row[f - 1]!);
        if (c > 0) expect(longestH).toBeLessThanOrEqual(demonstrated[c - 1]![f]!);
      });
    });
  });
});
