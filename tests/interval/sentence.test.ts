/** One sentence for each row of the decision table, as it is read out. */
import { describe, expect, it } from "vitest";
import type { Decided, IntervalRisks } from "../../src/interval/decide.ts";
import type { Bounded, EvidenceOutcome } from "../../src/interval/month-result.ts";
import { OVER_LIMIT, UNSAFE } from "../../src/interval/risks.ts";
import { type SentenceInput, sentenceOf } from "../../src/interval/sentence.ts";

const FAILURES = "functional failures per 1000 h";

/** @param unsafe  undefined: no unsafe-at limit is known */
const risk = (intervalH: number, overLimit: Bounded | null, unsafe?: Bounded | null): IntervalRisks => ({
  intervalH,
  risks: [
    { name: OVER_LIMIT, acceptable: 0.1, value: overLimit },
    ...(unsafe === undefined ? [] : [{ name: UNSAFE, acceptable: 0.001, value: unsafe }]),
  ],
});
const bounded = (estimate: number, lower: number | null, upper: number | null): Bounded => ({
  estimate,
  lower,
  upper,
});

const say = (decided: Partial<Decided> & Pick<Decided, "row">, more: Partial<SentenceInput> = {}) =>
  sentenceOf({
    decided: {
      answer: "keep",
      recommendedH: 300,
      candidateH: null,
      longestByBoundH: null,
      longestByEstimateH: null,
      governing: OVER_LIMIT,
      over: [],
      ...decided,
    },
    presentH: 300,
    confidence: 0.95,
    extensionConfidence: 0.975,
    grid: [risk(300, bounded(0.06, 0.03, 0.0912)), risk(350, bounded(0.08, 0.04, 0.12))],
    rulesAsked: 24,
    failed: [],
    functionalFailures: {
      name: FAILURES,
      acceptable: 0.01,
      value: bounded(0.05, 0.02, 0.11),
    },
    whyNoBound: "From lives: 8 lives of 2 aircraft. From wear: 4 components with readings.",
    monthsToSettle: null,
    ...more,
  });

const failed = (rule: string): EvidenceOutcome => ({
  rule,
  asks: "?",
  found: "48 looks",
  needed: "60 looks",
  outcome: "failed",
  settle: "12 more looks at 300 h, about 5 months at the present pace",
});

describe("sentenceOf(input): each row of the decision table", () => {
  it("row 1: shorten, established", () => {
    const grid = [risk(300, bounded(0.112, 0.105, 0.13))];
    expect(say({ row: 1, answer: "shorten", recommendedH: 200, over: [OVER_LIMIT] }, { grid })).toBe(
      "Shorten to 200 h. At 300 h with 95 % confidence at least 10.5 % of looks find a component over its limit " +
        "(best estimate 11.2 %); 10 % is acceptable.",
    );
  });

  it("row 1 by functional failures, with nothing shorter demonstrated", () => {
    expect(
      say({ row: 1, answer: "shorten", recommendedH: null, governing: FAILURES, over: [FAILURES] }),
    ).toBe(
      "Shorten: no interval on the grid is demonstrated; refer to the engineering authority now. At 300 h with 95 % " +
        "confidence at least 0.02 functional failures come in 1000 flight hours (best estimate 0.05); 0.01 is acceptable.",
    );
  });

  it("row 1: a lower bound is rounded down, and shows that it is over", () => {
    const grid = [risk(300, bounded(0.112, 0.1049, 0.13))];
    expect(say({ row: 1, answer: "shorten", recommendedH: 200, over: [OVER_LIMIT] }, { grid })).toContain(
      "at least 10.4 % of looks",
    );
  });

  it("row 7: an upper bound is rounded up: 0.1748 % is not at most 0.17 %", () => {
    const grid = [risk(300, bounded(0.02, 0.01, 0.03), bounded(0.0004, 0.0002, 0.000845))];
    expect(say({ row: 7, governing: UNSAFE }, { grid })).toContain("at most 0.085 % of the components");
    const over = [risk(300, bounded(0.02, 0.01, 0.03), bounded(0.0016, 0.0002, 0.001748))];
    expect(say({ row: 3, answer: "shorten", governing: UNSAFE, over: [UNSAFE] }, { grid: over })).toContain(
      "at most 0.18 %); 0.1 % is",
    );
  });

  it("row 2: not enough evidence, saying what is needed", () => {
    expect(say({ row: 2, governing: null })).toBe(
      "Keep 300 h, the approved interval: these data set no bound on any risk. From lives: 8 lives of 2 aircraft. " +
        "From wear: 4 components with readings.",
    );
  });

  it("row 3: shorten by the best estimate", () => {
    const grid = [risk(300, bounded(0.01, 0, 0.02), bounded(0.0017, 0.0009, 0.0042))];
    expect(
      say({ row: 3, answer: "shorten", recommendedH: 200, governing: UNSAFE, over: [UNSAFE] }, { grid }),
    ).toBe(
      "Shorten to 200 h. At 300 h by the best estimate 0.17 % of the components that reach their limit pass the " +
        "unsafe-at limit before a look sees them (with 95 % confidence at most 0.42 %); 0.1 % is acceptable.",
    );
  });

  it("names every risk that is over, the gravest first, each as surely as it is known", () => {
    const grid = [risk(200, bounded(0.22, 0.2, 0.23), bounded(0.4, 0.3, 0.48))];
    const functionalFailures = { name: FAILURES, acceptable: 0.01, value: bounded(0.06, 0.004, 0.1) };
    const over = [UNSAFE, FAILURES, OVER_LIMIT];
    expect(
      say(
        { row: 1, answer: "shorten", recommendedH: null, governing: UNSAFE, over },
        { grid, functionalFailures, presentH: 200 },
      ),
    ).toBe(
      "Shorten: no interval on the grid is demonstrated; refer to the engineering authority now. At 200 h with 95 % " +
        "confidence at least 30 % of the components that reach their limit pass the unsafe-at limit before a look sees " +
        "them (best estimate 40 %); 0.1 % is acceptable. Also over: by the best estimate 0.06 functional failures come in " +
        "1000 flight hours (with 95 % confidence at most 0.1); 0.01 is acceptable. Also over: with 95 % confidence at " +
        "least 20 % of looks find a component over its limit (best estimate 22 %); 10 % is acceptable.",
    );
  });

  it("tells functional failures over by the best estimate beside an answer that keeps", () => {
    expect(say({ row: 7, longestByBoundH: 350, over: [FAILURES] })).toMatch(
      / But with 95 % confidence at least 0\.02 functional failures come in 1000 flight hours .*; 0\.01 is acceptable\.$/,
    );
  });

  it("row 4 where a risk could not be computed: says which and why, not a bound that holds", () => {
    const grid = [risk(300, bounded(0.06, 0.03, 0.08), null)];
    expect(say({ row: 4, governing: UNSAFE }, { grid, monthsToSettle: 7 })).toBe(
      "Keep 300 h, which these data do not demonstrate yet: what share of the components that reach their limit pass the " +
        "unsafe-at limit before a look sees them could not be computed. From lives: 8 lives of 2 aircraft. From wear: 4 " +
        "components with readings.",
    );
  });

  it("row 4: keep, not demonstrated, with what would settle it", () => {
    const grid = [risk(300, bounded(0.06, 0.03, 0.12))];
    expect(say({ row: 4 }, { grid, monthsToSettle: 7 })).toBe(
      "Keep 300 h, which these data do not demonstrate yet: the best estimate is that 6 % of looks find a component over " +
        "its limit, but with 95 % confidence it is only known to be at most 12 %; 10 % is acceptable. About 7 more months " +
        "of looks at the present pace would settle it, if the estimate stays.",
    );
    expect(say({ row: 4 }, { grid, monthsToSettle: 500 })).toMatch(
      / At the present pace ten more years of looks would not settle it\.$/,
    );
    expect(say({ row: 4 }, { grid: [risk(300, bounded(0.06, 0.03, null))] })).toMatch(
      /but no upper bound can be set; 10 % is acceptable\.$/,
    );
  });

  it("row 5: extend, with the bound at the new interval", () => {
    const grid = [risk(300, bounded(0.03, 0.02, 0.05)), risk(350, bounded(0.05, 0.03, 0.08))];
    expect(say({ row: 5, answer: "extend", recommendedH: 350 }, { grid })).toBe(
      "Extend from 300 h to 350 h: all 24 evidence rules that apply pass. At 350 h with 95 % confidence at most 8 % of " +
        "looks find a component over its limit; 10 % is acceptable.",
    );
  });

  it("row 5: tells the risk that governs at the new interval, not at the present one", () => {
    const grid = [
      risk(300, bounded(0.05, 0.04, 0.062), bounded(0.0001, 0.0001, 0.0002)),
      risk(350, bounded(0.07, 0.06, 0.083), bounded(0.0005, 0.0002, 0.00085)),
    ];
    expect(say({ row: 5, answer: "extend", recommendedH: 350, governing: UNSAFE }, { grid })).toMatch(
      / At 350 h with 95 % confidence at most 0\.085 % of the components that reach .*; 0\.1 % is acceptable\.$/,
    );
  });

  it("row 6: keep, telling the first failed rule and naming the others", () => {
    const first = failed("looks at the present interval");
    expect(say({ row: 6, candidateH: 400 }, { failed: [first] })).toBe(
      'Keep 300 h. The risks would allow 400 h, but one evidence rule fails. The rule "looks at the present interval" ' +
        "found 48 looks; needed: 60 looks. What would settle it: 12 more looks at 300 h, about 5 months at the present pace.",
    );
    expect(
      say({ row: 6, candidateH: 400 }, { failed: [first, failed("review"), failed("aircraft")] }),
    ).toMatch(/but 3 evidence rules fail\. .* Also failed: review; aircraft\.$/);
  });

  it("row 7: keep, demonstrated, and why nothing longer is", () => {
    expect(say({ row: 7, longestByBoundH: 300 })).toBe(
      "Keep 300 h, which is demonstrated: with 95 % confidence at most 9.2 % of looks find a component over its limit; " +
        "10 % is acceptable. 350 h is not: the best estimate is that 8 % of looks find a component over its limit, but " +
        "with 95 % confidence it is only known to be at most 12 %; 10 % is acceptable.",
    );
    expect(say({ row: 7, longestByBoundH: 350 })).toMatch(
      / Of longer intervals 350 h holds at 95 % confidence, but not at the 97\.5 % that this review asks for\.$/,
    );
    expect(say({ row: 7, longestByBoundH: 300 }, { grid: [risk(300, bounded(0.06, 0.03, 0.09))] })).toMatch(
      / It is the longest interval of the grid\.$/,
    );
    const over = [risk(300, bounded(0.06, 0.03, 0.09)), risk(350, bounded(0.1086, 0.1, 0.1161))];
    expect(say({ row: 7, longestByBoundH: 300 }, { grid: over })).toMatch(
      / 350 h is not: by the best estimate 11 % of looks .* \(with 95 % confidence at most 12 %\); 10 % is acceptable\.$/,
    );
  });
});
