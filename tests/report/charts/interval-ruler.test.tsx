import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import type { Recommendation } from "../../../src/interval/month-result.ts";
import { IntervalRuler } from "../../../src/report/charts/interval-ruler.tsx";
import { rulerEnd, rulerInWords, rulerReading } from "../../../src/report/charts/ruler-scale.ts";
import { makeMonth } from "../../support/make-month.ts";

const [extend, , shorten, few] = makeMonth().recommendations as [
  Recommendation,
  Recommendation,
  Recommendation,
  Recommendation,
];
const drawn = (recommendation: Recommendation, size: "row" | "page" = "row", endH?: number) =>
  renderToString(
    <IntervalRuler recommendation={recommendation} size={size} {...(endH === undefined ? {} : { endH })} />,
  );
const barWidth = (svg: string) => Number(/<rect [^>]*width="([\d.]+)"/.exec(svg)?.[1] ?? Number.NaN);

describe("IntervalRuler({recommendation, size, endH})", () => {
  it("draws the bar as long as what is demonstrated, on the scale given", () => {
    // By hand: 250 px wide less 5 and 12 px of margin; 750 of 950 h, then of 1900 h.
    expect(extend.longestByBoundH).toBe(750);
    expect(barWidth(drawn(extend, "row", 950))).toBeCloseTo((750 / 950) * 233, 2);
    expect(barWidth(drawn(extend, "row", 1900))).toBeCloseTo((750 / 1900) * 233, 2);
  });

  it("draws no bar and no line where nothing is demonstrated", () => {
    const svg = drawn(few);
    expect(svg).not.toContain("<rect");
    expect(svg).not.toContain('stroke-width="1.5"');
  });

  it("draws no estimate that nothing bounds, and says so", () => {
    const some = { ...few, longestByEstimateH: 500 };
    expect(drawn(some)).not.toContain('stroke-width="1.5"');
    expect(rulerInWords(rulerReading(some))).toContain(
      "Too few data for any bound, so no estimate is shown.",
    );
    expect(drawn({ ...some, recommendation: "keep" })).toContain('stroke-width="1.5"');
  });

  it("draws no open notch where no interval is recommended", () => {
    const none = { ...shorten, recommendedIntervalH: null };
    expect(drawn(shorten)).toContain("--accent");
    expect(drawn(none)).not.toContain("--accent");
    expect(rulerInWords(rulerReading(none))).toContain("No interval is recommended.");
  });

  it("closes the bracket where the observed hours end on the ruler, and opens it where they go on", () => {
    const bracket = (observedToHours: number | null) =>
      drawn({ ...extend, observedToHours }, "row", 1000).match(/d="M5,42[^"]*"/)?.[0];
    expect(bracket(500)).toMatch(/H121\.5v-4"/);
    expect(bracket(2000)).toMatch(/H243M/);
    expect(bracket(null)).toBeUndefined();
  });

  it("says all of it in words", () => {
    expect(rulerInWords(rulerReading(extend)).replaceAll("\u202f", " ")).toBe(
      "Present interval 600 h. Recommended 750 h. Demonstrated to 750 h. The best estimate holds to 850 h. Hours observed to 2940 h.",
    );
    expect(drawn(extend)).toContain(`aria-label="${rulerInWords(rulerReading(extend))}"`);
  });

  it("reaches the longest interval of all rulers of a table", () => {
    expect(rulerEnd([shorten, extend])).toBe(950);
  });

  it.each(["row", "page"] as const)("keeps every coordinate of a %s within its frame", (size) => {
    for (const recommendation of makeMonth().recommendations) {
      const svg = drawn(recommendation, size);
      const [, width] = /viewBox="0 0 (\d+) (\d+)"/.exec(svg)!;
      for (const [, x] of svg.matchAll(/<text x="([\d.-]+)"/g)) {
        expect(Number(x)).toBeGreaterThanOrEqual(0);
        expect(Number(x)).toBeLessThanOrEqual(Number(width));
      }
      expect(svg).not.toMatch(/NaN|undefined| style=/);
    }
  });
});
