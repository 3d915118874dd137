import { describe, expect, it } from "vitest";
import { groupWear } from "../../src/interval/group-wear.ts";
import { wearFits, wearLine } from "../../src/interval/wear-line.ts";
import { simulateWear } from "../wear/simulate-wear.ts";

function decisionOf(seed: number) {
  const { table, entryHours, aircraft } = simulateWear({ seed, components: 30 });
  const readings = { table, entryHours, cluster: aircraft, lives: [] };
  const line = wearLine(wearFits(readings, { byWear: 0, unread: 0 }, 0.5, 0.95), 0.5, 0.95);
  return groupWear(readings, line, 0.95).decision!;
}

describe("groupWear(readings, wear, confidence).decision", () => {
  it("tells the fastest 1 % with bounds of its own, and what a check of few components says beside them", () => {
    const decisions = [1, 2, 3, 4].map(decisionOf);
    for (const { p99RatePer1000H: p99, p99Check } of decisions) {
      // A check has no bound: were its estimate taken, the upper bound would be equal to it.
      expect(p99.upper).toBeGreaterThan(p99.estimate * 1.001);
      expect(p99.lower).toBeLessThan(p99.estimate);
      if (p99Check === null) continue;
      expect(p99Check.ratePer1000H).toBeGreaterThan(p99.estimate);
      expect(p99Check.components).toBeLessThan(30);
    }
    expect(new Set(decisions.map(({ p99Check }) => p99Check === null))).toEqual(new Set([true, false]));
  });
});
