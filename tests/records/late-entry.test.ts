/** Records of 650 days on lives of years: most lives enter late, and what is taken for their last look before decides. */
import { describe, expect, it } from "vitest";
import { lifeLine } from "../../src/interval/life-line.ts";
import { overLimitShare } from "../../src/interval/over-limit-share.ts";
import { survivalOf } from "../../src/life/decision-line.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { INTERVAL_H, lateTable, TRUE_LIFE } from "./late-fleet.ts";

const share = (survival: (hours: number) => number) => overLimitShare(survival, INTERVAL_H, 3000);
const TRUTH = share(survivalOf(TRUE_LIFE));

describe("buildLives(exports, settings): late entry, simulated", () => {
  const tables = Array.from({ length: 20 }, (_, seed) => lateTable(7000 + seed, 150, 650));

  it("leaves the over-limit share where it is (entries taken one interval before the records made it 9 % too small)", () => {
    const shares = tables.map((table) => {
      const fit = fitWeibull(table);
      if (fit.kind !== "fitted") throw new Error(fit.why);
      return share(survivalOf(fit));
    });
    const mean = shares.reduce((sum, one) => sum + one, 0) / shares.length;
    const variance = shares.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (shares.length - 1);
    expect(Math.abs(mean - TRUTH)).toBeLessThan(3 * Math.sqrt(variance / shares.length));
  });

  it("keeps a bound of 95 % at or over the truth, 19 times of 20 (it was 14 times)", () => {
    const covered = tables.filter((table) => {
      const outcome = lifeLine(table)(0.95);
      if (outcome.kind !== "line") throw new Error("no line");
      return outcome.line.bounded(share, "upper").upper! >= TRUTH;
    });
    expect(covered.length).toBeGreaterThanOrEqual(17);
  });
});
