import { describe, expect, it } from "vitest";
import { lifeLine } from "../../src/interval/life-line.ts";
import { lifeTable } from "../../src/records/life-table.ts";

/**
 * Lives that all lasted to the same hours without an event: at those hours the shape of the Weibull doesn't matter, and n
 * of them show that a share R lasts so long at confidence C from n = ln(1 − C)/ln(R). Values recomputed from that formula
 * (success run; that MIL-HDBK-338B prints it is from memory).
 */
describe("lifeLine(table) at zero events: the success run", () => {
  it.each([
    [0.9, 0.8, 16],
    [0.9, 0.9, 22],
    [0.9, 0.95, 29],
    [0.9, 0.99, 44],
    [0.95, 0.9, 45],
    [0.95, 0.95, 59],
    [0.99, 0.95, 299],
  ])(
    "shows that %f last at %f confidence with %i lives and not with one fewer",
    (share, confidence, lives) => {
      const bound = (count: number) => {
        const table = lifeTable(
          Array.from({ length: count }, (_, i) => ({
            lowerHours: 600,
            upperHours: Number.POSITIVE_INFINITY,
            cluster: i % 10,
          })),
        );
        const result = lifeLine(table)(confidence);
        if (result.kind === "none") throw new Error(result.why);
        return result.line.bounded((survival) => 1 - survival(600)).upper!;
      };
      expect(bound(lives)).toBeLessThanOrEqual(1 - share);
      expect(bound(lives - 1)).toBeGreaterThan(1 - share);
    },
  );
});
