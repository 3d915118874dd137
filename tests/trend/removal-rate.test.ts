import { describe, expect, it } from "vitest";
import { poissonBounds } from "../../src/math/exact-bounds.ts";
import { removalRates } from "../../src/trend/removal-rate.ts";
import { trendReference } from "./read-reference.ts";

describe("poissonBounds(count, confidence)", () => {
  it("agrees with R's poisson.test (reference/trend.json)", () => {
    const { counts, lower95, upper95 } = trendReference.poisson;
    counts.forEach((count, i) => {
      const { lower, upper } = poissonBounds(count, 0.95);
      expect(lower).toBeCloseTo(lower95[i]!, 8);
      expect(upper / upper95[i]!).toBeCloseTo(1, 10);
    });
  });

  it("gives the limits of Garwood (1936), Biometrika 28, 437-442, as printed (from memory)", () => {
    const printed: [number, number, number][] = [
      [0, 0, 3.69],
      [1, 0.0253, 5.57],
      [2, 0.242, 7.22],
      [3, 0.619, 8.77],
      [10, 4.8, 18.39],
    ];
    for (const [count, low, high] of printed) {
      expect(poissonBounds(count, 0.95).lower).toBeCloseTo(low, count === 1 ? 4 : 2);
      expect(poissonBounds(count, 0.95).upper).toBeCloseTo(high, 2);
    }
  });

  it("refuses what is no count or no confidence", () => {
    expect(() => poissonBounds(1.5, 0.95)).toThrow(RangeError);
    expect(() => poissonBounds(-1, 0.95)).toThrow(RangeError);
    expect(() => poissonBounds(1, 1)).toThrow(RangeError);
  });
});

describe("removalRates(months, confidence)", () => {
  it("is per 1000 flight hours, with the limits of the count over the same hours", () => {
    const [rate] = removalRates([{ month: "2026-01", flightHours: 4000, removals: 2 }], 0.95);
    expect(rate).toEqual({
      kind: "rate",
      month: "2026-01",
      per1000H: 0.5,
      lowerPer1000H: expect.closeTo(0.2422092785 / 4, 9),
      upperPer1000H: expect.closeTo(7.224687668 / 4, 9),
    });
  });
  it("has no rate where nothing flew, and keeps the removals in sight", () => {
    expect(removalRates([{ month: "2026-01", flightHours: 0, removals: 1 }], 0.95)).toEqual([
      { kind: "no-hours", month: "2026-01", removals: 1 },
    ]);
  });
});
