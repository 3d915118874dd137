import { describe, expect, it } from "vitest";
import { componentSums, sumsBefore } from "../../src/wear/component-sums.ts";

describe("sumsBefore(lives)", () => {
  it("holds for each reading but the first the sums of a component with those before it", () => {
    const lives = [
      { readingHours: [400, 810, 1190, 1600], readingWearMm: [0.05, 0.11, 0.14, 0.22] },
      { readingHours: [500], readingWearMm: [0.07] },
      { readingHours: [], readingWearMm: [] },
      { readingHours: [300, 900], readingWearMm: [0.03, 0.1] },
    ];
    const rows = lives.flatMap(({ readingHours, readingWearMm }, life) =>
      readingHours.slice(1).flatMap((_, k) =>
        [...readingHours.slice(0, k + 1).keys()].map((before) => ({
          look: `${life} ${k}`,
          hours: readingHours[before]!,
          wearMm: readingWearMm[before]!,
        })),
      ),
    );
    const looks = [...new Set(rows.map(({ look }) => look))];
    const expected = componentSums({
      rows: rows.length,
      components: looks.length,
      component: Int32Array.from(rows, ({ look }) => looks.indexOf(look)),
      hours: Float64Array.from(rows, ({ hours }) => hours),
      wearMm: Float64Array.from(rows, ({ wearMm }) => wearMm),
    });
    expect(expected.components).toBe(4);
    expect(sumsBefore(lives)).toEqual(expected);
  });
});
