import { describe, expect, it } from "vitest";
import { meanOverComponents } from "../../src/wear/component-rates.ts";
import { fitFamily } from "../../src/wear/decision-fit.ts";
import { observedBelow } from "../../src/wear/observed-below.ts";
import { overLimitAtRate, rateTail } from "../../src/wear/tail.ts";
import { simulateWear } from "./simulate-wear.ts";

describe("observedBelow(tail, limitMm)", () => {
  it("is the mean over all components, one by one, at any hours (survivors weighed)", () => {
    const data = simulateWear({ seed: 3, components: 60, recordHours: 1500 });
    const result = fitFamily(data, "lognormal", "all");
    if (result.kind !== "fitted") throw new Error(result.kind);
    const tail = rateTail(data, result.fit);
    for (const limitMm of [0.3, 0.5]) {
      const below = observedBelow(tail, limitMm);
      for (const hours of [0, 1, 200, 800, 1500, 4000, 40_000]) {
        const over = meanOverComponents(tail.rates, (rate) =>
          overLimitAtRate(result.fit.parameters, rate, hours, limitMm),
        );
        expect(Math.abs(below(hours) - (1 - over))).toBeLessThan(1e-12);
      }
    }
  });
});
