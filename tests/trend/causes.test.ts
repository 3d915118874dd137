import { describe, expect, it } from "vitest";
import { rankCauses } from "../../src/trend/causes.ts";

const removal = (cause: string, finding: "confirmed" | "no fault found" | "none" = "none") => ({
  cause,
  confirmed: finding === "confirmed",
  noFaultFound: finding === "no fault found",
});

describe("rankCauses(removals)", () => {
  it("ranks by number, keeps confirmed, unconfirmed and unexamined apart, and adds up the shares", () => {
    const ranked = rankCauses([
      removal("seal", "no fault found"),
      removal("wear", "confirmed"),
      removal("wear"),
      removal("wear", "no fault found"),
    ]);
    expect(ranked).toEqual([
      {
        cause: "wear",
        removals: 3,
        confirmed: 1,
        noFaultFound: 1,
        noFinding: 1,
        share: 0.75,
        cumulativeShare: 0.75,
      },
      {
        cause: "seal",
        removals: 1,
        confirmed: 0,
        noFaultFound: 1,
        noFinding: 0,
        share: 0.25,
        cumulativeShare: 1,
      },
    ]);
  });
  it("does not depend on the order of rows", () => {
    const rows = [removal("b"), removal("a"), removal("c"), removal("c")];
    expect(rankCauses(rows)).toEqual(rankCauses([...rows].reverse()));
    expect(rankCauses(rows).map(({ cause }) => cause)).toEqual(["c", "a", "b"]);
    expect(rankCauses([])).toEqual([]);
  });
});
