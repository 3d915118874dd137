import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import type { GroupResult, Month } from "../../../src/interval/month-result.ts";
import { OddReadings } from "../../../src/report/pages/data-odd.tsx";
import { Measured, SealShare } from "../../../src/report/pages/interval-annex-wear.tsx";
import { SealEffects } from "../../../src/report/pages/trend-seal.tsx";
import { RateOpinions, RatesCompared } from "../../../src/report/pages/trend-wear.tsx";
import { makeMonth } from "../../support/make-month.ts";

const month = makeMonth();
/** What a reader reads: no tags, single spaces. */
const wordsOf = (html: string): string =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/[\s\u202f]+/g, " ")
    .replace(/ ([.,;:])/g, "$1");
const shown = (vnode: Parameters<typeof renderToString>[0] | null): string =>
  vnode === null ? "" : wordsOf(renderToString(vnode));
const at = (place: number): GroupResult => month.groups[place]!;
const officer = (place: number, of: Month = month) => ({
  month: of,
  group: of.groups[place]!,
  recommendation: of.recommendations[place]!,
  riskFigures: [],
});

/** The month with the shape of one group changed. */
function withShape(place: number, shape: Partial<GroupResult["wearChecks"]["shape"]>): Month {
  const groups = month.groups.map((group, k) =>
    k === place
      ? { ...group, wearChecks: { ...group.wearChecks, shape: { ...group.wearChecks.shape, ...shape } } }
      : group,
  );
  return makeMonth({ groups });
}

describe("trend.html: wear in words", () => {
  it("says what the one model stands on, who moved, and what a change of ring did on the same component", () => {
    const text = shown(<RatesCompared month={month} />);
    expect(text).toContain("one model of 700 readings of 195 components on 9 aircraft");
    expect(text).toContain("4 components flew in more than one environment and count in each");
    expect(text).toContain("Too few components to compare: coastal, shielded.");
    expect(text).toContain(
      "From plain to shielded on the same component (9 components): wears 0.20 (0.07–0.33) mm per 1000 h slower after it.",
    );
    expect(text).toContain(
      "Hinge bushing: environments and standards are not compared in one model: only one",
    );
  });

  it("puts the median component beside the mean, and each finding of shape beside what follows from it", () => {
    const text = shown(<RateOpinions month={month} />);
    expect(text).toMatch(/sandy, plain 0\.68 \(0\.63–0\.73\) 0\.66 \(0\.61–0\.73\)/);
    expect(text).toContain("Straight as far as the readings tell");
    expect(text).toContain("From about 2024-08-15 components wear 0.12 (0.03–0.21) mm per 1000 h faster");
    expect(text).toContain("Shape not tested: too few readings a component.");
    const bent = withShape(0, {
      curvature: {
        kind: "fitted",
        components: 90,
        readings: 300,
        exponent: 1.3,
        lower: 1.2,
        upper: 1.42,
        verdict: "bends up",
      },
      runningIn: {
        kind: "fitted",
        components: 40,
        aircraft: 9,
        changeMmPer1000Hours: -0.1,
        lower: -0.14,
        upper: -0.06,
      },
    });
    const bentText = shown(<RateOpinions month={bent} />);
    expect(bentText).toContain("1.30 (1.20–1.42)");
    expect(bentText).toContain("a straight line reaches the limit too late");
    expect(bentText).toMatch(
      /After 1200 h components wear 0\.10 \(0\.06–0\.14\) mm per 1000 h slower .*running in/,
    );
  });

  it("shows the watch list’s record: what was given a chance, what was found", () => {
    const text = shown(<RateOpinions month={month} />);
    expect(text).toMatch(/10 to 30 % 80 19 % 14 18 % \(10–28\)/);
    expect(shown(<RateOpinions month={makeMonth({ watchRecord: [] })} />)).not.toContain("record: each look");
  });

  it("shows the seal’s effect by the pessimistic way, drift, and the scenario as one", () => {
    const text = shown(<SealEffects month={month} />);
    expect(text).toContain("300 gap readings join 50 components; 4 join none.");
    expect(text).toMatch(/sandy, shielded 0 % to 29 % 2\.1 \(1\.3–3\.2\) right after it was left/);
    expect(text).toContain("wear is faster with the gap out of tolerance");
    expect(text).toContain("76 % (61–92) of the rate as flown");
    expect(text).toContain("The last column is a scenario only.");
    expect(text).toContain("Hinge bushing: what seals do to its wear is not known: no gap reading joins");
  });
});

describe("the officer’s annex and the data page: the measuring", () => {
  it("gives scatter, gauge, heap, looks with a number, odd readings, second opinion and shape", () => {
    const text = shown(<Measured {...officer(0)} />);
    expect(text).toContain(
      "0.012 mm about each component’s line; 0.011 mm between 7 repeats at the same hours",
    );
    expect(text).toContain("read in steps of 0.010 mm");
    expect(text).toContain(
      "5 in the 0.020 mm just below it, 6 in the step before, 4 in the step above; no heap",
    );
    expect(text).toContain("(100 %)");
    expect(text).toContain("1 reading 4 standard deviations or more off the line");
    expect(text).toContain("hours to the power 1.02 (0.90–1.14)");
    const unfitted = shown(<Measured {...officer(3)} />);
    expect(unfitted).toContain("no line to tell it by");
    expect(unfitted).toContain("too few components with two readings");
  });

  it("says what the seal does to the officer’s group, or that it is not known", () => {
    const sandy = shown(<SealShare {...officer(1)} />);
    expect(sandy).toContain("Such hours wear 2.1 (1.3–3.2) times as fast");
    expect(sandy).toContain("As a scenario only: with every seal in tolerance, 76 % (61–92)");
    expect(sandy).toContain("No recommendation follows from it.");
    expect(at(0).key.environment).toBe("temperate");
    expect(shown(<SealShare {...officer(0)} />)).toContain(
      "not known: no component of it has two gap readings",
    );
  });

  it("lists odd readings with their rows, and says so where there are none", () => {
    const text = shown(<OddReadings month={month} />);
    expect(text).toMatch(
      /0017 grip bearing, temperate, shielded 900 0\.310 5\.2 −0\.080 exports\/wear-2026-03\.csv:91/,
    );
    expect(shown(<OddReadings month={makeMonth({ groups: [] })} />)).toContain("No wear reading lies");
  });

  it("keeps a hostile serial inert", () => {
    const odd = { ...at(0).wearChecks.measurement.odd[0]!, serial: "<script>alert(1)</script>" };
    const [first, ...rest] = month.groups as [GroupResult, ...GroupResult[]];
    const measurement = { ...first.wearChecks.measurement, odd: [odd] };
    const groups = [{ ...first, wearChecks: { ...first.wearChecks, measurement } }, ...rest];
    expect(renderToString(<OddReadings month={makeMonth({ groups })} />)).not.toContain("<script");
  });
});
