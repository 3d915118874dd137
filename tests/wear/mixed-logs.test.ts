import { describe, expect, it } from "vitest";
import { type MixedLogs, mixLogs } from "../../src/wear/mixed-logs.ts";

describe("mixLogs(one, two, share, out)", () => {
  const mixed = (one: number, two: number, share: number): MixedLogs => {
    const out = { log: 0, second: 0 };
    mixLogs(one, two, share, out);
    return out;
  };

  it("is the logarithm of the mixture, and of its larger part where that alone can be written", () => {
    expect(mixed(Math.log(2), Math.log(6), 0.25).log).toBeCloseTo(Math.log(3), 14);
    expect(mixed(-2000, -1000, 0.1).log).toBeCloseTo(-1000 + Math.log(0.1), 10);
    expect(mixed(-1000, -2000, 0.1).log).toBeCloseTo(-1000 + Math.log(0.9), 10);
  });

  it("has the derivatives that differences give", () => {
    for (const [one, two] of [
      [-1, -3],
      [-4, -2.5],
    ] as const) {
      const { second } = mixed(one, two, 0.2);
      expect(second).toBeCloseTo(
        (mixed(one, two + 1e-5, 0.2).log - mixed(one, two - 1e-5, 0.2).log) / 2e-5,
        9,
      );
      const share = (logit: number) => 1 / (1 + Math.exp(-logit));
      const at = Math.log(0.25);
      const byLogit = (mixed(one, two, share(at + 1e-5)).log - mixed(one, two, share(at - 1e-5)).log) / 2e-5;
      expect(second - 0.2).toBeCloseTo(byLogit, 9);
    }
  });
});
