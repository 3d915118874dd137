import { describe, expect, it } from "vitest";
import { percentAxis, riskFloor } from "../../../src/report/charts/risk-scale.ts";
import { apart, fitted, namedTicks } from "../../../src/report/charts/text-room.ts";
import { environmentStyles, styleOf } from "../../../src/report/charts/theme.ts";

describe("fitted(text, roomPx, fontPx)", () => {
  it("leaves what fits and cuts what doesn't, by whole characters", () => {
    expect(fitted("sandy", 100, 10)).toBe("sandy");
    expect(fitted("sandy, plain", 31.2, 10)).toBe("sandy…");
    expect(fitted("🜚🜚🜚🜚", 15.6, 10)).toBe("🜚🜚…");
  });
});

describe("namedTicks(values, pxPerUnit, gapPx)", () => {
  it("names the first and every one with room after the last named", () => {
    expect(namedTicks([0, 50, 100, 150, 200], 0.3, 25)).toEqual([0, 100, 200]);
    expect(namedTicks([], 1, 10)).toEqual([]);
  });
});

describe("apart(labels, gapPx, lowestPx)", () => {
  it("moves close labels apart, in their order, and keeps them above the lowest line", () => {
    const moved = apart([{ y: 100 }, { y: 96 }, { y: 20 }], 15, 104);
    expect(moved.map((label) => label.y)).toEqual([20, 89, 104]);
  });
});

describe("riskFloor(acceptable)", () => {
  it("is two decades under the decade of the acceptable level", () => {
    expect(riskFloor(0.1)).toBeCloseTo(0.001, 12);
    expect(riskFloor(0.05)).toBeCloseTo(0.0001, 12);
    expect(riskFloor(0.001)).toBeCloseTo(0.00001, 12);
  });
  it("has ticks at the powers of ten up to all", () => {
    expect(percentAxis(0.001).values!.map((value) => Number(Number(value).toPrecision(6)))).toEqual([
      0.001, 0.01, 0.1, 1,
    ]);
  });
});

describe("environmentStyles(environments)", () => {
  it("never gives two of twelve environments the same colour and line style", () => {
    const names = Array.from({ length: 12 }, (_, index) => `place ${index}`);
    const styles = [...environmentStyles(names).values()].map((style) => `${style.colour} ${style.dash}`);
    expect(new Set(styles).size).toBe(12);
  });
  it("draws an environment the fleet file doesn't know in plain ink", () => {
    expect(styleOf(environmentStyles(["sandy"]), "unassigned").colour).toContain("--ink");
  });
});
