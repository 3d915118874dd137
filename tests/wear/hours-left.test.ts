import { describe, expect, it } from "vitest";
import { componentSums } from "../../src/wear/component-sums.ts";
import { fitFamily } from "../../src/wear/decision-fit.ts";
import { chanceOver, componentPosterior, hoursLeft } from "../../src/wear/hours-left.ts";
import { wearTable } from "./read-set.ts";
import { simulateWear } from "./simulate-wear.ts";

const group = {
  family: "lognormal" as const,
  interceptMm: 0.02,
  interceptSdMm: 0.01,
  measurementSdMm: 0.015,
  location: Math.log(0.25),
  spread: 0.4,
};

describe("hoursLeft(sums, i, parameters, look)", () => {
  it("follows the component's own line where it has many readings, by hand: (0.5 − 0.02)/0.4 − 1 = 0.2 thousand hours", () => {
    const hours = Array.from({ length: 40 }, (_, k) => 25 * (k + 1));
    const sums = componentSums(wearTable(hours.map((h) => ["a", h, 0.02 + (0.4 * h) / 1000] as const)));
    for (const family of ["lognormal", "normal"] as const) {
      const parameters = {
        ...group,
        family,
        ...(family === "normal" ? { location: 0.25, spread: 0.1 } : {}),
      };
      const left = hoursLeft(sums, 0, parameters, { hoursNow: 1000, nextLookHours: 1200, limitMm: 0.5 });
      expect(Math.abs(left.medianHours - 200)).toBeLessThan(10);
      expect(left.lowerHours).toBeLessThan(left.medianHours);
      expect(left.upperHours).toBeGreaterThan(left.medianHours);
      expect(Math.abs(left.overByNextLook - 0.5)).toBeLessThan(0.15);
      expect(left.wearNowMm).toBeCloseTo(0.42, 2);
    }
  });

  it("draws one reading towards the group, and leaves no hours to a component past the limit", () => {
    const sums = componentSums(
      wearTable([
        ["fast", 300, 0.3],
        ["over", 900, 0.62],
      ]),
    );
    const look = { hoursNow: 300, nextLookHours: 600, limitMm: 0.5 };
    const fast = hoursLeft(sums, 0, group, look);
    expect(fast.rateMmPer1000Hours).toBeGreaterThan(0.5);
    expect(fast.rateMmPer1000Hours).toBeLessThan(0.28 / 0.3);
    const over = hoursLeft(sums, 1, group, { ...look, hoursNow: 900, nextLookHours: 1200 });
    expect(over.medianHours).toBe(0);
    expect(over.overByNextLook).toBeGreaterThan(0.99);
  });

  it("rises with hours", () => {
    const sums = componentSums(wearTable([["a", 600, 0.2]]));
    const posterior = componentPosterior(sums, 0, group);
    expect(posterior.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    const chances = [600, 1200, 1800, 2400].map((h) => chanceOver(posterior, h, 0.5, true));
    expect([...chances].sort((a, b) => a - b)).toEqual(chances);
  });

  it("is calibrated: of components given about 20 %, about 20 % are over at the next look (simulation)", () => {
    const bins = [0, 0, 0, 0].map(() => ({ predicted: 0, over: 0, n: 0 }));
    for (let seed = 1; seed <= 3; seed++) {
      const data = simulateWear({ seed, components: 300, fromNew: true });
      const fit = fitFamily(data, "lognormal", "all");
      if (fit.kind !== "fitted") throw new Error(fit.kind);
      const rowsOf = new Map<number, number[]>();
      for (let row = 0; row < data.table.rows; row++) {
        const key = data.table.component[row]!;
        rowsOf.set(key, [...(rowsOf.get(key) ?? []), row]);
      }
      for (const rows of rowsOf.values()) {
        // The look of a fixed number, whether or not it was the last: choosing last looks would choose finds.
        const next = rows[4];
        if (next === undefined) continue;
        const before = rows.slice(0, 4);
        const seen = wearTable(
          before.map((row) => ["a", data.table.hours[row]!, data.table.wearMm[row]!] as const),
        );
        const posterior = componentPosterior(componentSums(seen), 0, fit.fit.parameters);
        const chance = chanceOver(posterior, data.table.hours[next]!, 0.5, true);
        const bin = bins[chance < 0.1 ? 0 : chance < 0.3 ? 1 : chance < 0.7 ? 2 : 3]!;
        bin.predicted += chance;
        bin.over += data.table.wearMm[next]! >= 0.5 ? 1 : 0;
        bin.n++;
      }
    }
    for (const bin of bins) {
      const error = Math.sqrt((bin.predicted * (1 - bin.predicted / bin.n)) / bin.n ** 2);
      expect(bin.n).toBeGreaterThan(15);
      expect(Math.abs(bin.over - bin.predicted) / bin.n).toBeLessThan(3 * error + 0.01);
    }
  });
});
