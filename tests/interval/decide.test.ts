import { describe, expect, it } from "vitest";
import { type DecisionInput, decide, type IntervalRisks } from "../../src/interval/decide.ts";
import type { Bounded } from "../../src/interval/month-result.ts";

/** One risk on a grid of 100 h steps, acceptable 0.10: [estimate, lower, upper] at each interval. */
const grid = (values: readonly (readonly [number, number | null, number | null] | null)[]): IntervalRisks[] =>
  values.map((value, i) => ({
    intervalH: 100 * (i + 1),
    risks: [
      {
        name: "over limit per inspection",
        acceptable: 0.1,
        value: value && { estimate: value[0], lower: value[1], upper: value[2] },
      },
    ],
  }));

const quiet: Bounded = { estimate: 0, lower: 0, upper: 0.02 };
const input = (values: Parameters<typeof grid>[0], more: Partial<DecisionInput> = {}): DecisionInput => ({
  grid: grid(values),
  beyondPresent: (intervalH) => grid(values).find((at) => at.intervalH === intervalH)!,
  presentH: 300,
  largestChange: 0.5,
  functionalFailures: { name: "functional failures", acceptable: 0.01, value: quiet },
  firstInspectionH: 10_000,
  mayExtendTo: () => true,
  ...more,
});

describe("decide(input): the first row that applies", () => {
  it("row 1: shortens, established, where the lower bound at the present interval is over", () => {
    const decided = decide(
      input([
        [0.02, 0.01, 0.05],
        [0.09, 0.05, 0.15],
        [0.2, 0.12, 0.3],
        [0.3, 0.2, 0.4],
      ]),
    );
    expect([decided.row, decided.answer, decided.recommendedH]).toEqual([1, "shorten", 100]);
  });

  it("never takes a number that could not be computed for one that holds", () => {
    const good = [0.01, 0, 0.02] as const;
    const noBound = decide(input([good, good, [0.01, 0, Number.NaN], good]));
    expect([noBound.row, noBound.recommendedH, noBound.longestByBoundH]).toEqual([4, 300, 200]);
    const noEstimate = decide(input([good, good, [Number.NaN, 0, Number.NaN], good]));
    expect([noEstimate.row, noEstimate.recommendedH]).toEqual([3, 200]);
    // Beyond the present interval it ends the search.
    const beyond = decide(input([good, good, good, [Number.NaN, 0, Number.NaN]]));
    expect([beyond.row, beyond.recommendedH]).toEqual([7, 300]);
  });

  it("row 1: shortens where the lower bound of the functional-failure rate is over, whatever the risks", () => {
    const failures = {
      name: "functional failures",
      acceptable: 0.01,
      value: { estimate: 0.1, lower: 0.02, upper: 0.3 },
    };
    const decided = decide(
      input(
        [
          [0.01, 0, 0.02],
          [0.02, 0, 0.03],
          [0.03, 0, 0.05],
        ],
        { functionalFailures: failures },
      ),
    );
    expect([decided.row, decided.governing, decided.recommendedH]).toEqual([1, "functional failures", 200]);
  });

  it("row 1 comes before row 2: however few the data", () => {
    expect(decide(input([null, null, [0.5, 0.2, null]])).row).toBe(1);
  });

  it("row 2: not enough evidence where there is no bound at all; the approved interval stays", () => {
    const decided = decide(input([null, null, [0.5, null, null], null]));
    expect([decided.row, decided.answer, decided.recommendedH]).toEqual([2, "not enough evidence", 300]);
  });

  it("row 3: shortens where the best estimate is over", () => {
    const decided = decide(
      input([
        [0.02, 0.01, 0.05],
        [0.06, 0.02, 0.09],
        [0.11, 0.04, 0.2],
        [0.2, 0.1, 0.3],
      ]),
    );
    expect([decided.row, decided.answer, decided.recommendedH]).toEqual([3, "shorten", 200]);
  });

  it("shortens to where the estimates hold if no bound does, else to nothing", () => {
    expect(
      decide(
        input([
          [0.05, 0.01, 0.2],
          [0.08, 0.01, 0.3],
          [0.11, 0.04, 0.4],
        ]),
      ).recommendedH,
    ).toBe(200);
    expect(
      decide(
        input([
          [0.15, 0.01, 0.2],
          [0.2, 0.01, 0.3],
          [0.3, 0.04, 0.4],
        ]),
      ).recommendedH,
    ).toBeNull();
  });

  it("row 4: keeps, not demonstrated, where the estimate holds and the bound does not", () => {
    const decided = decide(
      input([
        [0.02, 0, 0.05],
        [0.03, 0, 0.08],
        [0.05, 0, 0.12],
        [0.06, 0, 0.2],
      ]),
    );
    expect([decided.row, decided.answer, decided.longestByBoundH, decided.longestByEstimateH]).toEqual([
      4,
      "keep",
      200,
      400,
    ]);
  });

  it("row 5: extends to the longest interval such that every shorter one holds too", () => {
    // 500 h holds again, but 400 h does not: it is no candidate.
    const decided = decide(
      input([
        [0.01, 0, 0.02],
        [0.01, 0, 0.02],
        [0.02, 0, 0.04],
        [0.05, 0, 0.11],
        [0.05, 0, 0.09],
      ]),
    );
    expect([decided.row, decided.candidateH]).toEqual([7, 300]);
    const longer = decide(
      input([
        [0.01, 0, 0.02],
        [0.01, 0, 0.02],
        [0.02, 0, 0.04],
        [0.05, 0, 0.09],
        [0.05, 0, 0.2],
      ]),
    );
    expect([longer.row, longer.answer, longer.recommendedH]).toEqual([5, "extend", 400]);
  });

  it("caps an extension by the largest change, and evaluates the rules there", () => {
    const asked: number[] = [];
    const holds = [0.01, 0, 0.02] as const;
    const decided = decide(
      input([holds, holds, holds, holds, holds, holds], {
        mayExtendTo: (candidateH) => asked.push(candidateH) > 0,
      }),
    );
    expect([decided.recommendedH, asked]).toEqual([400, [400]]);
    expect(decided.longestByBoundH).toBe(600);
  });

  it("tests an extension at its own, stricter bounds, and the present interval at the stated confidence", () => {
    const holds = [0.01, 0, 0.02] as const;
    const [, , , stricter] = grid([holds, holds, holds, [0.01, 0, 0.11]]);
    const decided = decide(input([holds, holds, holds, holds], { beyondPresent: () => stricter! }));
    expect([decided.row, decided.candidateH, decided.longestByBoundH]).toEqual([7, 300, 400]);
  });

  it("row 6: keeps where a rule fails", () => {
    const holds = [0.01, 0, 0.02] as const;
    const decided = decide(input([holds, holds, holds, holds], { mayExtendTo: () => false }));
    expect([decided.row, decided.answer, decided.recommendedH, decided.candidateH]).toEqual([
      6,
      "keep",
      300,
      400,
    ]);
  });

  it("row 7: keeps where the present interval is the longest that holds", () => {
    const decided = decide(
      input([
        [0.01, 0, 0.02],
        [0.02, 0, 0.04],
        [0.04, 0, 0.08],
        [0.08, 0, 0.13],
      ]),
    );
    expect([decided.row, decided.answer]).toEqual([7, "keep"]);
  });

  it("demonstrates nothing beyond the first-inspection hours, nor where there are none", () => {
    const holds = [0.01, 0, 0.02] as const;
    expect(decide(input([holds, holds, holds, holds], { firstInspectionH: 350 })).row).toBe(7);
    expect(decide(input([holds, holds, holds, holds], { firstInspectionH: null })).row).toBe(4);
  });

  it("holds at exactly the acceptable value", () => {
    const decided = decide(
      input([
        [0.1, 0, 0.1],
        [0.1, 0, 0.1],
        [0.1, 0.1, 0.1],
      ]),
    );
    expect(decided.row).toBe(7);
  });

  describe("which risk governs", () => {
    type Three = readonly [number, number | null, number | null];
    const bounded = (value: Three | null): Bounded | null =>
      value && { estimate: value[0], lower: value[1], upper: value[2] };
    /** Over limit (acceptable 0.1) and unsafe (acceptable 0.001), at 100 h, 200 h, ... */
    const twoRisks = (
      rows: readonly (readonly [Three | null, Three | null])[],
      more: Partial<DecisionInput> = {},
    ) => {
      const both = rows.map(([over, unsafe], i) => ({
        intervalH: 100 * (i + 1),
        risks: [
          { name: "over limit", acceptable: 0.1, value: bounded(over) },
          { name: "unsafe", acceptable: 0.001, value: bounded(unsafe) },
        ],
      }));
      const beyondPresent = (intervalH: number) => both.find((at) => at.intervalH === intervalH)!;
      return decide({ ...input([]), grid: both, beyondPresent, presentH: 200, ...more });
    };

    it("row 1: the one furthest over in ratio; all that are over are named, the gravest first", () => {
      const failures = {
        name: "failures",
        acceptable: 0.01,
        value: { estimate: 0.06, lower: 0.04, upper: 0.1 },
      };
      const at = [
        [0.22, 0.2, 0.23],
        [0.4, 0.3, 0.48],
      ] as const;
      const decided = twoRisks([at, at], { functionalFailures: failures });
      expect([decided.row, decided.governing]).toEqual([1, "unsafe"]);
      expect(decided.over).toEqual(["unsafe", "failures", "over limit"]);
    });

    it("row 1: a risk over by its estimate alone is named too, and governs where it is furthest over", () => {
      const at = [
        [0.12, 0.11, 0.13],
        [0.005, null, null],
      ] as const;
      const decided = twoRisks([at, at]);
      expect([decided.row, decided.governing, decided.over]).toEqual([1, "unsafe", ["unsafe", "over limit"]]);
    });

    it("row 3: by ratio; a failure rate that is over is named and can govern", () => {
      const at = [
        [0.15, 0.05, 0.2],
        [0.0012, 0.0001, 0.002],
      ] as const;
      const failures = {
        name: "failures",
        acceptable: 0.01,
        value: { estimate: 0.02, lower: 0, upper: 0.1 },
      };
      const decided = twoRisks([at, at], { functionalFailures: failures });
      expect([decided.row, decided.over]).toEqual([3, ["failures", "over limit", "unsafe"]]);
      expect(decided.governing).toBe("failures");
    });

    it("extend: the one nearest its limit at the recommended interval; keep: at the present one", () => {
      const rows = [
        [
          [0.01, 0, 0.02],
          [0.0001, 0, 0.0001],
        ],
        [
          [0.05, 0.04, 0.062],
          [0.0001, 0, 0.0002],
        ],
        [
          [0.07, 0.06, 0.084],
          [0.0005, 0, 0.00085],
        ],
      ] as const;
      const extended = twoRisks(rows);
      expect([extended.row, extended.recommendedH, extended.governing]).toEqual([5, 300, "unsafe"]);
      expect(twoRisks(rows, { mayExtendTo: () => false }).governing).toBe("over limit");
    });

    it("keep: one without a bound before one with, and one that could not be computed is not passed over", () => {
      const small = [0.01, 0, 0.09] as const;
      expect(
        twoRisks([
          [small, [0.0001, 0, null]],
          [small, [0.0001, 0, null]],
        ]).governing,
      ).toBe("unsafe");
      const missing = twoRisks([
        [small, null],
        [small, null],
      ]);
      expect([missing.row, missing.governing, missing.over]).toEqual([4, "unsafe", []]);
      expect(
        twoRisks([
          [null, null],
          [null, null],
        ]).governing,
      ).toBeNull();
    });
  });
});
