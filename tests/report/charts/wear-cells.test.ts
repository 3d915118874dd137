import { describe, expect, it } from "vitest";
import type { GroupResult } from "../../../src/interval/month-result.ts";
import { MOST_SINGLE_READINGS, wearCells } from "../../../src/report/charts/wear-cells.ts";
import { wearAxes, wearChart, wearSpec } from "../../../src/report/charts/wear-chart.ts";
import { makeMonth } from "../../support/make-month.ts";
import { layersOf } from "./every-chart.ts";

const axes = { maxHours: 560, minMm: 0, maxMm: 0.36 };
const at = (hours: number, wearMm: number) => ({ line: 0, hours, wearMm });

describe("wearCells(readings, axes)", () => {
  it("counts every reading once, in the cell it lies in (by hand: 56 columns of 10 h, 36 rows of 0.01 mm)", () => {
    const cells = wearCells([at(14, 0.025), at(15, 0.0251), at(555, 0.351)], axes);
    expect(cells.map((cell) => cell.readings)).toEqual([2, 1]);
    expect(cells[0]).toMatchObject({ fromHours: 10, toHours: 20 });
    expect(cells[0]!.fromMm).toBeCloseTo(0.02, 12);
    expect(cells[1]).toMatchObject({ fromHours: 550, toHours: 560 });
  });

  it("loses no reading on or past the edge of the axes", () => {
    const cells = wearCells([at(0, 0), at(560, 0.36), at(900, 2), at(5, -0.01)], axes);
    expect(cells.reduce((sum, cell) => sum + cell.readings, 0)).toBe(4);
  });

  it("shades the fullest cell darkest and leaves a lone reading visible", () => {
    const cells = wearCells([...Array.from({ length: 400 }, () => at(14, 0.025)), at(300, 0.2)], axes);
    expect(cells[0]!.shade).toBeCloseTo(0.6, 12);
    expect(cells[1]!.shade).toBeGreaterThan(0.07);
    expect(cells[1]!.shade).toBeLessThan(0.15);
  });
});

describe("wearSpec(input)", () => {
  const spec = (readings: number) =>
    wearSpec({
      readings: Array.from({ length: readings }, (_, index) => ({
        line: Math.floor(index / 3),
        hours: index % 560,
        wearMm: (index % 35) / 100,
      })),
      band: [],
      axes,
      replaceAtMm: 0.3,
      unsafeAtMm: null,
      intervalH: 100,
      label: "sandy, plain",
      style: { colour: "#000", dash: [1, 0] },
    });
  const marks = (readings: number) => layersOf(spec(readings)).map((layer) => layer.mark.type);

  it("draws each component up to 1500 readings and counts cells above", () => {
    expect(marks(MOST_SINGLE_READINGS)).not.toContain("rect");
    expect(marks(MOST_SINGLE_READINGS + 1)[0]).toBe("rect");
  });

  it("lifts the pen between components, never within one", () => {
    const path = layersOf(spec(9))[0]!.data.values;
    expect(path.map((point) => point.hours)).toEqual([0, 1, 2, null, 3, 4, 5, null, 6, 7, 8]);
  });
});

describe("wearAxes(groups)", () => {
  const [, , group] = makeMonth().groups as [GroupResult, GroupResult, GroupResult];
  const withReading = (wearMm: number): GroupResult => ({
    ...group,
    lives: [{ ...group.lives[0]!, readingHours: [400], readingWearMm: [wearMm] }, ...group.lives.slice(1)],
  });

  it("holds the limits with room for their names, and every reading near them", () => {
    expect(wearAxes([withReading(0.3)]).maxMm).toBeCloseTo(1.12 * 0.8, 12);
    expect(wearAxes([withReading(1.1)]).maxMm).toBe(1.1);
    expect(wearAxes([withReading(-0.01)]).minMm).toBe(-0.01);
  });

  it("isn't squeezed by a stray reading, which stands at the edge and in the caption", () => {
    const stray = withReading(12.7);
    expect(wearAxes([stray]).maxMm).toBeCloseTo(1.5 * 0.8, 12);
    const chart = wearChart(stray, wearAxes([stray]), { colour: "#000", dash: [1, 0] }, []);
    expect(chart.caption).toContain("1 reading beyond the axis, the farthest 12.70");
    expect(layersOf(chart.spec).map((layer) => layer.mark.shape)).toContain("triangle-up");
  });
});
