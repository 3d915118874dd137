import { describe, expect, it } from "vitest";
import { clopperPearson, poissonBounds } from "../../src/math/exact-bounds.ts";

describe("clopperPearson(successes, trials, confidence)", () => {
  // R 4.2 binom.test; 0/10 and 1/10 also in printed tables.
  it.each([
    [0, 10, 0, 0.3084971078],
    [1, 10, 0.002528578544, 0.445016117],
    [2, 20, 0.01234852717, 0.316982714],
    [6, 1703, 0.001294013975, 0.007652625947],
    [10, 10, 0.6915028922, 1],
  ])("agrees with R's binom.test at %i of %i", (successes, trials, lower, upper) => {
    const bounds = clopperPearson(successes, trials, 0.95);
    expect(bounds.lower).toBeCloseTo(lower, 9);
    expect(bounds.upper).toBeCloseTo(upper, 9);
  });
});

describe("poissonBounds(count, confidence)", () => {
  // Garwood (1936), Biometrika 28, 437-442; digits recomputed with R 4.2 qchisq.
  it.each([
    [0, 0, 3.688879454],
    [1, 0.02531780798, 5.571643391],
    [3, 0.6186721229, 8.76727307],
    [10, 4.795388696, 18.39035604],
    [20, 12.21651959, 30.8883779],
  ])("agrees with Garwood's limits at %i events", (count, lower, upper) => {
    const bounds = poissonBounds(count, 0.95);
    expect(bounds.lower).toBeCloseTo(lower, 8);
    expect(bounds.upper).toBeCloseTo(upper, 7);
  });

  it("gives the 90 % limits too", () => {
    expect(poissonBounds(2, 0.9).lower).toBeCloseTo(0.3553615107, 9);
    expect(poissonBounds(2, 0.9).upper).toBeCloseTo(6.295793622, 8);
  });
});

describe("clopperPearson(successes, trials, confidence): demonstration with failures allowed", () => {
  // Fewest of a binomial sample that show reliability R at confidence C with f failures; recomputed with R 4.2 pbinom,
  // the first of each row is the success run's ln(1 - C)/ln(R) rounded up (MIL-HDBK-338B and others, from memory).
  it.each([
    [0.9, 0.9, [22, 38, 52, 65, 78, 91]],
    [0.95, 0.95, [59, 93, 124, 153, 181, 208]],
    [0.9, 0.95, [29, 46, 61, 76, 89, 103]],
    [0.95, 0.9, [45, 77, 105, 132, 158, 184]],
    [0.99, 0.95, [299, 473, 628, 773, 913, 1049]],
  ])("R %f at C %f needs %j for 0 to 5 failures, and not one fewer", (reliability, confidence, sizes) => {
    // The upper of two-sided limits at 2C - 1 is one-sided at C.
    const upper = (failures: number, of: number) => clopperPearson(failures, of, 2 * confidence - 1).upper;
    for (const [failures, size] of sizes.entries()) {
      expect(upper(failures, size)).toBeLessThanOrEqual(1 - reliability + 1e-12);
      expect(upper(failures, size - 1)).toBeGreaterThan(1 - reliability);
    }
  });
});
