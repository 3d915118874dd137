/** Late entry at length: records of 650 to 2500 days on lives of years, 60 fleets of 300 positions each. */
import { describe, expect, it } from "vitest";
import { lifeLine } from "../../src/interval/life-line.ts";
import { overLimitShare } from "../../src/interval/over-limit-share.ts";
import { survivalOf } from "../../src/life/decision-line.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { INTERVAL_H, lateTable, TRUE_LIFE } from "../records/late-fleet.ts";

const FLEETS = 60;
const share = (survival: (hours: number) => number) => overLimitShare(survival, INTERVAL_H, 3000);
const TRUTH = share(survivalOf(TRUE_LIFE));

describe.each([650, 1250, 2500])("late entry, records of %i days", (days) => {
  const tables = Array.from({ length: FLEETS }, (_, seed) => lateTable(1000 + seed, 300, days));

  it("leaves the share unbiased, and a 95 % upper bound covers it as often as it says", () => {
    const shares: number[] = [];
    let covered = 0;
    for (const table of tables) {
      const fit = fitWeibull(table);
      if (fit.kind !== "fitted") throw new Error(fit.why);
      shares.push(share(survivalOf(fit)));
      const outcome = lifeLine(table)(0.95);
      if (outcome.kind !== "line") throw new Error("no line");
      if (outcome.line.bounded(share, "upper").upper! >= TRUTH) covered++;
    }
    const mean = shares.reduce((sum, one) => sum + one, 0) / FLEETS;
    const variance = shares.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (FLEETS - 1);
    expect(Math.abs(mean - TRUTH)).toBeLessThan(3 * Math.sqrt(variance / FLEETS));
    // 57 expected; 52 or fewer come by chance 3 % of the time.
    expect(covered).toBeGreaterThanOrEqual(52);
  });
});
