/** The invented month with as many evidence rules, inputs and unknowns as a real run has, for page and print tests. */
import type { EvidenceOutcome, Month } from "../../src/interval/month-result.ts";
import { makeMonth } from "../support/make-month.ts";

type Rule = readonly [rule: string, needed: string, found: string, settle: string | null];

const passed: readonly Rule[] = [
  ["basis", "programme", "programme", null],
  ["review", "a month of the fleet file's reviews", "a review month", null],
  ["direct count", "at most 10 %", "8 of 666 looks (1.2 %)", null],
  ["last decision", "no refusal or deferral open", "approved 400 h", null],
  ["lives", "at least 20", "90", null],
  ["aircraft", "at least 5", "9", null],
  ["no aircraft dominates", "at most 40 % of the lives", "12 %", null],
  ["looks at the present interval", "at least 60 since the last change", "193", null],
  [
    "followed",
    "10 components of 3 aircraft followed to where 10 % are over, or wear beyond 0.35 mm",
    "34 of 9",
    null,
  ],
  ["components for a small unsafe risk", "at least 60", "90", null],
  [
    "spread as modelled",
    "no misfit and no rate far outside the others, together at the 5 % level",
    "p = 0.41; largest 2.2",
    null,
  ],
  ["readings complete", "at least 90 % of due looks have a number", "97 %", null],
  [
    "no heaping",
    "no more readings just below the limit than just above, beyond chance",
    "6 below, 5 above",
    null,
  ],
  ["early removals", "at most 20 %", "4 %", null],
  ["no open alert", "no more than 1 of the last 3 months over the 99 % limit", "0", null],
  ["fit", "the best alternative changes the risk by at most 20 %", "lognormal: 7 %", null],
  ["lines agree", "exact two-sided p at least 0.05", "9 found, 11.2 predicted, p = 0.62", null],
  ["old components", "chance at the next look at most 20 %", "8 %", null],
  ["upper exponent", "upper bound of the exponent at most 1.2", "1.08", null],
  ["rejected rows", "at most 2 %", "0.2 %", null],
];

const failing: readonly Rule[] = [
  [
    "functional failures",
    "none in 24 months",
    "1 on 2025-11-04",
    "24 months without one, or the authority's own judgement of this one",
  ],
  [
    "safeguards",
    "all of them",
    "not computed: bootstrap calibration below 50 components; two-part mixture of rates",
    "a later version of this program",
  ],
];

const outcomes = (rules: readonly Rule[], outcome: EvidenceOutcome["outcome"]): readonly EvidenceOutcome[] =>
  rules.map(([rule, needed, found, settle]) => ({
    rule,
    asks: `Is it so: ${needed}?`,
    needed,
    found,
    outcome,
    settle,
  }));

/** A month whose officer's pages are as full as they get. */
export function fullMonth(overrides: Partial<Month> = {}): Month {
  const month = makeMonth();
  return {
    ...month,
    inputs: ["wear", "gaps", "removals", "installed", "flying"].map((kind) => ({
      ...month.inputs[0]!,
      file: `exports/${kind}-2026-03.csv`,
    })),
    recommendations: month.recommendations.map((recommendation) => ({
      ...recommendation,
      evidence: [
        ...outcomes(passed, "passed"),
        ...outcomes(failing, recommendation.recommendation === "extend" ? "passed" : "failed"),
        ...recommendation.evidence.filter(({ outcome }) => outcome === "not applicable"),
      ],
      notKnown: [
        ...recommendation.notKnown,
        "How fast a component wears beyond the replace-at limit: 3 were measured twice there, 10 are needed.",
      ],
    })),
    ...overrides,
  };
}
