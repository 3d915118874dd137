import { describe, expect, it } from "vitest";
import type { GroupResult } from "../../../src/interval/month-result.ts";
import { lifeChart } from "../../../src/report/charts/life-chart.ts";
import { markCovers, markEnds } from "../../../src/report/charts/life-marks.ts";
import { lifeRange } from "../../../src/report/charts/life-range.ts";
import { makeMonth } from "../../support/make-month.ts";

const range = { lowest: 100, highest: 10_000 };
const interval = (lower: number, upper: number) => ({ kind: "interval", lower, upper }) as const;

describe("markEnds(hours, range)", () => {
  it("draws marks of one pixel pair once, each within a pixel of where it lies", () => {
    const ends = markEnds([1000, 1000.4, 1000.9, 5000], range);
    expect(ends).toHaveLength(2);
    // 168 cells of 2 px over two decades: a cell is 2.8 % of the hours wide.
    expect(Math.abs(ends[0]!.hours / 1000 - 1)).toBeLessThan(0.028);
    expect(Math.abs(ends[1]!.hours / 5000 - 1)).toBeLessThan(0.028);
  });

  it("keeps marks outside the range at its ends", () => {
    const ends = markEnds([0, 50_000], range);
    expect(ends[0]!.hours).toBeLessThan(103);
    expect(ends[1]!.hours).toBeGreaterThan(9700);
  });
});

describe("markCovers(marks, range)", () => {
  it("shades hours that two lives cover darker than those of one, and none where no life is", () => {
    const covers = markCovers([interval(200, 1000), interval(600, 2000)], range);
    expect(covers).toHaveLength(3);
    const [first, both, last] = covers;
    expect(both!.shade).toBeCloseTo(0.55, 12);
    expect(first!.shade).toBeCloseTo(0.55 * Math.SQRT1_2, 12);
    expect(last!.shade).toBeCloseTo(first!.shade, 12);
    expect(first!.from).toBeGreaterThan(190);
    expect(last!.to).toBeLessThan(2070);
  });

  it("stays small for a group of thousands", () => {
    const many = Array.from({ length: 5000 }, (_, index) => interval(150 + index, 200 + 1.5 * index));
    expect(markCovers(many, range).length).toBeLessThanOrEqual(168);
  });
});

describe("lifeRange(groups)", () => {
  const [, , group] = makeMonth().groups as [GroupResult, GroupResult, GroupResult];
  const withMarks = (marks: GroupResult["life"]["marks"]): GroupResult => ({
    ...group,
    life: { ...group.life, weibull: null, marks },
  });
  const finds = Array.from({ length: 100 }, (_, index) => interval(400 + index, 500 + index));

  it("isn't stretched by one early find among a hundred, and counts it in the caption", () => {
    const stretched = withMarks([
      ...finds,
      { kind: "left", lower: 0, upper: 8 },
      { kind: "running", lower: 3, upper: null },
    ]);
    const range = lifeRange([stretched]);
    expect(range.lowest).toBeGreaterThan(50);
    const chart = lifeChart(
      stretched,
      { range, kinds: ["interval"] },
      { colour: "#000", dash: [1, 0] },
      0.95,
    );
    expect(chart.caption).toContain("2 marks at the left end: before the axis begins.");
  });

  it("begins below the earliest find of few, and below every life read off", () => {
    expect(lifeRange([withMarks([interval(20, 60), interval(400, 500)])]).lowest).toBeCloseTo(48, 9);
    expect(lifeRange([group]).lowest).toBeLessThan(group.life.weibull!.tenPercentHours.lower!);
  });
});
