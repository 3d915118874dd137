import { describe, expect, it } from "vitest";
import type { Task } from "../../src/fleet/fleet.ts";
import { firstOfEach, type Proposal, proposalOf } from "../../src/replay/proposals.ts";
import type { PastAnswer } from "../../src/replay/record-result.ts";

const task = { task: "wear check", part: "grip bearing", tolerance: 0.1 } as Task;
const answer = (over: Partial<PastAnswer> = {}): PastAnswer => ({
  task: "wear check",
  group: { part: "grip bearing", environment: "sandy", standard: "plain" },
  basis: "programme",
  presentIntervalH: 300,
  answer: "keep",
  row: 6,
  recommendedIntervalH: 300,
  candidateH: 400,
  longestByBoundH: 450,
  governing: null,
  failed: ["review"],
  ...over,
});
const risk = (life: number, wear: number) => ({
  intervalH: 400,
  overLimitPerInspection: {
    life: { estimate: life, lower: life / 2, upper: 2 * life },
    wear: { estimate: wear, lower: wear / 2, upper: 2 * wear },
  },
  unsafeBeforeSeen: null,
});
const when = { month: "2026-01", asOf: 20_484 };
const of = (past: PastAnswer) => proposalOf(task, past, { risks: [risk(0.03, 0.04)] }, when);

describe("proposalOf(task, answer, judgement, when)", () => {
  it("is the longer interval, with the worse line's share of then", () => {
    expect(of(answer())).toMatchObject({ fromH: 300, toH: 400, predicted: { estimate: 0.04, upper: 0.08 } });
  });

  it("is none where nothing longer than the present interval held", () => {
    expect(of(answer({ candidateH: null }))).toBeNull();
    expect(of(answer({ candidateH: 300 }))).toBeNull();
  });

  it("says whether it was recommended, waited for a review, or failed rules of the evidence", () => {
    const kind = (over: Partial<PastAnswer>) => of(answer(over))!.kind;
    expect(kind({ answer: "extend", row: 5, failed: [] })).toBe("extend");
    expect(kind({ failed: ["review", "safeguards"] })).toBe("would pass");
    expect(kind({ failed: ["review", "lives"] })).toBe("bounds held, rules failed");
  });
});

describe("firstOfEach(proposals)", () => {
  it("keeps the first month of each and counts its months", () => {
    const first = of(answer())!;
    const again: Proposal = { ...first, month: "2026-02", asOf: 20_512 };
    const longer: Proposal = { ...again, toH: 450 };
    expect(firstOfEach([first, again, longer, again])).toEqual([
      { proposal: first, months: 3 },
      { proposal: longer, months: 1 },
    ]);
  });
});
