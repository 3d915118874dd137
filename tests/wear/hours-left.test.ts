import { describe, expect, it } from "vitest";
import {
  type ComponentPosterior,
  chanceOver,
  componentPosterior,
} from "../../src/wear/component-posterior.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import { fitFamily } from "../../src/wear/decision-fit.ts";
import { hoursLeft } from "../../src/wear/hours-left.ts";
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

const mean = (
  { rates, weights, interceptMm }: ComponentPosterior,
  of: (rate: number, interceptMm: number) => number,
): number => weights.reduce((sum, weight, k) => sum + weight * of(rates[k]!, interceptMm[k]!), 0);

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
      const left = hoursLeft(sums, 0, parameters, { lookedAtHours: 1000, limitMm: 0.5 });
      expect(Math.abs(left.medianHours - 200)).toBeLessThan(10);
      expect(left.lowerHours).toBeLessThan(left.medianHours);
      expect(left.upperHours).toBeGreaterThan(left.medianHours);
      const posterior = componentPosterior(sums, 0, parameters);
      expect(Math.abs(chanceOver(posterior, 1200, 0.5, true) - 0.5)).toBeLessThan(0.15);
      const wearNowMm = mean(posterior, (rate, offsetMm) => offsetMm + rate);
      expect(wearNowMm).toBeCloseTo(0.42, 2);
    }
  });

  it("draws one reading towards the group, and leaves no hours to a component past the limit", () => {
    const sums = componentSums(
      wearTable([
        ["fast", 300, 0.3],
        ["over", 900, 0.62],
      ]),
    );
    const rate = mean(componentPosterior(sums, 0, group), (own) => own);
    expect(rate).toBeGreaterThan(0.5);
    expect(rate).toBeLessThan(0.28 / 0.3);
    const over = hoursLeft(sums, 1, group, { lookedAtHours: 900, limitMm: 0.5 });
    expect(over.medianHours).toBe(0);
    expect(chanceOver(componentPosterior(sums, 1, group), 1200, 0.5, true)).toBeGreaterThan(0.99);
  });

  it("is where the chance of wear over the limit comes to a half and to each side's share (halving)", () => {
    const rows = [
      ["slow", 900, 0.06],
      ["as others", 900, 0.25],
      ["fast", 100, 0.2],
    ] as const;
    const sums = componentSums(wearTable(rows));
    for (const interceptSdMm of [0.01, 1e-9]) {
      const parameters = { ...group, interceptSdMm };
      for (const [i, [, lookedAtHours]] of rows.entries()) {
        const posterior = componentPosterior(sums, i, parameters);
        const left = hoursLeft(sums, i, parameters, { lookedAtHours, limitMm: 0.5, confidence: 0.9 });
        const halved = (chance: number) => {
          let low = 0;
          let high = 1e6;
          for (let step = 0; step < 60; step++) {
            const middle = (low + high) / 2;
            if (chanceOver(posterior, lookedAtHours + middle, 0.5, false) < chance) low = middle;
            else high = middle;
          }
          return low;
        };
        expect(left.lowerHours / halved(0.05)).toBeCloseTo(1, 6);
        expect(left.medianHours / halved(0.5)).toBeCloseTo(1, 6);
        expect(left.upperHours / halved(0.95)).toBeCloseTo(1, 6);
      }
    }
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
