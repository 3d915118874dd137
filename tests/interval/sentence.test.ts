/** One sentence for each row of the decision table, as it is read out. */
import { describe, expect, it } from "vitest";
import type { Decided } from "../../src/interval/decide.ts";
import type { Bounded, EvidenceOutcome, RiskAtInterval } from "../../src/interval/month-result.ts";
import { UNSAFE } from "../../src/interval/risks.ts";
import { type SentenceInput, sentenceOf } from "../../src/interval/sentence.ts";

const OVER_LIMIT = "over limit per inspection";

const risk = (intervalH: number, wear: Bounded | null, unsafe: Bounded | null = null): RiskAtInterval => ({
  intervalH,
  overLimitPerInspection: { life: null, wear },
  unsafeBeforeSeen: unsafe,
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
      ...decided,
    },
    presentH: 300,
    confidence: 0.95,
    extensionConfidence: 0.975,
    risks: [risk(300, bounded(0.06, 0.03, 0.0912)), risk(350, bounded(0.08, 0.04, 0.12))],
    acceptable: { overLimitPerInspection: 0.1, unsafeBeforeSeen: 0.001 },
    rulesAsked: 24,
    failed: [],
    functionalFailures: {
      name: "functional failures per 1000 h",
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
    const risks = [risk(300, bounded(0.112, 0.105, 0.13))];
    expect(say({ row: 1, recommendedH: 200 }, { risks })).toBe(
      "Shorten to 200 h. At 300 h with 95 % confidence at least 10.5 % of looks find a component over its limit " +
        "(best estimate 11.2 %); 10 % is acceptable.",
    );
  });

  it("row 1 by functional failures, with nothing shorter demonstrated", () => {
    expect(say({ row: 1, recommendedH: null, governing: "functional failures per 1000 h" })).toBe(
      "Shorten: no interval on the grid is demonstrated; refer to the engineering authority now. At 300 h with 95 % " +
        "confidence at least 0.02 functional failures come in 1000 flight hours (best estimate 0.05); 0.01 is acceptable.",
    );
  });

  it("row 1: a lower bound is rounded down, and shows that it is over", () => {
    const risks = [risk(300, bounded(0.112, 0.1049, 0.13))];
    expect(say({ row: 1, recommendedH: 200 }, { risks })).toContain("at least 10.4 % of looks");
  });

  it("row 7: an upper bound is rounded up: 0.1748 % is not at most 0.17 %", () => {
    const risks = [risk(300, bounded(0.02, 0.01, 0.03), bounded(0.0004, 0.0002, 0.000845))];
    expect(say({ row: 7, governing: UNSAFE }, { risks })).toContain("at most 0.085 % of the components");
    const over = [risk(300, bounded(0.02, 0.01, 0.03), bounded(0.0016, 0.0002, 0.001748))];
    expect(say({ row: 3, governing: UNSAFE }, { risks: over })).toContain("at most 0.18 %); 0.1 % is");
  });

  it("row 2: not enough evidence, saying what is needed", () => {
    expect(say({ row: 2, governing: null })).toBe(
      "Keep 300 h, the approved interval: these data set no bound on any risk. From lives: 8 lives of 2 aircraft. " +
        "From wear: 4 components with readings.",
    );
  });

  it("row 3: shorten by the best estimate", () => {
    const risks = [risk(300, bounded(0.01, 0, 0.02), bounded(0.0017, 0.0009, 0.0042))];
    expect(say({ row: 3, recommendedH: 200, governing: UNSAFE }, { risks })).toBe(
      "Shorten to 200 h. At 300 h by the best estimate 0.17 % of the components that reach their limit pass the " +
        "unsafe-at limit before a look sees them (with 95 % confidence at most 0.42 %); 0.1 % is acceptable.",
    );
  });

  it("row 4: keep, not demonstrated, with what would settle it", () => {
    const risks = [risk(300, bounded(0.06, 0.03, 0.12))];
    expect(say({ row: 4 }, { risks, monthsToSettle: 7 })).toBe(
      "Keep 300 h, which these data do not demonstrate yet: the best estimate is that 6 % of looks find a component over " +
        "its limit, but with 95 % confidence it is only known to be at most 12 %; 10 % is acceptable. About 7 more months " +
        "of looks at the present pace would settle it, if the estimate stays.",
    );
    expect(say({ row: 4 }, { risks, monthsToSettle: 500 })).toMatch(
      / At the present pace ten more years of looks would not settle it\.$/,
    );
    expect(say({ row: 4 }, { risks: [risk(300, bounded(0.06, 0.03, null))] })).toMatch(
      /but no upper bound can be set; 10 % is acceptable\.$/,
    );
  });

  it("row 5: extend, with the bound at the new interval", () => {
    const risks = [risk(300, bounded(0.03, 0.02, 0.05)), risk(350, bounded(0.05, 0.03, 0.08))];
    expect(say({ row: 5, answer: "extend", recommendedH: 350 }, { risks })).toBe(
      "Extend from 300 h to 350 h: all 24 evidence rules that apply pass. At 350 h with 95 % confidence at most 8 % of " +
        "looks find a component over its limit; 10 % is acceptable.",
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
    expect(say({ row: 7, longestByBoundH: 300 }, { risks: [risk(300, bounded(0.06, 0.03, 0.09))] })).toMatch(
      / It is the longest interval of the grid\.$/,
    );
    const over = [risk(300, bounded(0.06, 0.03, 0.09)), risk(350, bounded(0.1086, 0.1, 0.1161))];
    expect(say({ row: 7, longestByBoundH: 300 }, { risks: over })).toMatch(
      / 350 h is not: by the best estimate 11 % of looks .* \(with 95 % confidence at most 12 %\); 10 % is acceptable\.$/,
    );
  });
});
