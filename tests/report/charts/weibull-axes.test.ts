import { describe, expect, it } from "vitest";
import { logHours, SHARE_AXIS, weibullHeight } from "../../../src/report/charts/weibull-axes.ts";

describe("weibullHeight(shareOver)", () => {
  it("makes a Weibull life a straight line of slope `shape` through 0 at the scale (its definition)", () => {
    const shape = 2.7;
    const scale = 1400;
    const shareOver = (hours: number) => 1 - Math.exp(-((hours / scale) ** shape));
    expect(weibullHeight(shareOver(scale))).toBeCloseTo(0, 12);
    for (const hours of [300, 700, 1000, 2100]) {
      expect(weibullHeight(shareOver(hours))! / Math.log(hours / scale)).toBeCloseTo(shape, 9);
    }
  });

  it("has no place for none and all", () => {
    expect([weibullHeight(0), weibullHeight(1)]).toEqual([null, null]);
  });
});

describe("SHARE_AXIS", () => {
  it("ticks where the shares it names lie: 63.2 % would be at height 0", () => {
    expect(SHARE_AXIS.values).toHaveLength(10);
    const shares = SHARE_AXIS.values!.map((height) => 1 - Math.exp(-Math.exp(Number(height))));
    expect(shares.map((share) => Number(share.toPrecision(6)))).toEqual([
      0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.95, 0.99,
    ]);
  });
});

describe("logHours(lowest, highest)", () => {
  it("ticks at 1, 2, 3 and 5 times powers of ten within the axis", () => {
    expect(logHours(250, 3500).axis.values).toEqual([300, 500, 1000, 2000, 3000]);
  });
});
