import { describe, expect, it } from "vitest";
import { overLimitShare } from "../../src/interval/over-limit-share.ts";
import { greatestAge, worse } from "../../src/interval/risks.ts";
import { looksBeforeUnsafe, unsafeBeforeSeen, usableMarginMm } from "../../src/interval/unsafe-risk.ts";

describe("overLimitShare(survival, spacingH, greatestAgeH)", () => {
  it("is 1 − S(T) per look for constant hazard, at every age and in the long run (by hand)", () => {
    const survival = (hours: number) => Math.exp(-hours / 1000);
    expect(overLimitShare(survival, 200, 5000)).toBeCloseTo(1 - Math.exp(-0.2), 6);
  });

  it("takes the worst of the first looks where components wear out together (by hand)", () => {
    // All reach the limit at 900 h: looks at 400 and 800 find nothing, the third finds all: 1 of 3.
    const survival = (hours: number) => (hours < 900 ? 1 : 0);
    expect(overLimitShare(survival, 400, 1200)).toBeCloseTo(1 / 3, 12);
    // The long run is the same renewal: one find in three looks, also where no age was observed.
    expect(overLimitShare(survival, 400, 0)).toBeCloseTo(1 / 3, 12);
  });

  it("as followed, hears nothing of what comes after the greatest age (by hand)", () => {
    const survival = (hours: number) => (hours < 900 ? 1 : 0);
    expect(overLimitShare(survival, 400, 800, "as followed")).toBe(0);
    expect(overLimitShare(survival, 400, 1200, "as followed")).toBeCloseTo(1 / 3, 12);
  });

  it("never falls below the share of a younger fleet (infant failures weigh more early)", () => {
    const survival = (hours: number) => 0.2 * Math.exp(-hours / 50) + 0.8 * Math.exp(-hours / 5000);
    const first = 1 - survival(200);
    expect(overLimitShare(survival, 200, 4000)).toBeCloseTo(first, 12);
  });

  it("grows with the hours between looks for a part that wears out", () => {
    const survival = (hours: number) => Math.exp(-((hours / 2000) ** 3));
    const shares = [100, 200, 400, 800, 1600].map((spacing) => overLimitShare(survival, spacing, 3000));
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
  });
});

describe("unsafeBeforeSeen(shareAbove, margin, factor, spacing, detection)", () => {
  const fixedRate = (rate: number) => (above: number) => (rate > above ? 1 : 0);

  it("gives n = ln(acceptable)/ln(1 − d) looks at one fixed rate (NAVAIR 00-25-403, as quoted in published slides)", () => {
    // Acceptable 1e-3 and d = 0.9 ask for 3 looks: the margin holds exactly three intervals.
    const risk = unsafeBeforeSeen(fixedRate(0.001), 0.3, 1, 100, 0.9);
    expect(risk).toBeCloseTo(1e-3, 12);
    expect(Math.log(1e-3) / Math.log(1 - 0.9)).toBeCloseTo(3, 12);
  });

  it("keeps three looks at the floating-point edge (0.3 / (0.001 × 100) is 2.9999…)", () => {
    expect(0.3 / (0.001 * 100)).toBeLessThan(3);
    expect(looksBeforeUnsafe(0.3, 0.001, 100)).toBe(3);
  });

  it("counts no more than four looks, and none without a margin", () => {
    expect(looksBeforeUnsafe(10, 0.001, 100)).toBe(4);
    expect(unsafeBeforeSeen(fixedRate(0.001), 10, 1, 100, 0.9)).toBeCloseTo(1e-4, 15);
    expect(unsafeBeforeSeen(fixedRate(0.001), 0, 1, 100, 0.9)).toBe(1);
  });

  it("adds the shares by looks (by hand: half gets one look, half gets two)", () => {
    const shareAbove = (rate: number) => (rate < 0.001 ? 1 : rate < 0.002 ? 0.5 : 0);
    // Margin 0.3, spacing 100: rate 0.002 gets 1 look, rate 0.001 gets 3.
    expect(unsafeBeforeSeen(shareAbove, 0.3, 1, 100, 0.9)).toBeCloseTo(0.5 * 0.1 + 0.5 * 0.001, 12);
  });

  it("grows with spacing, beyond-limit factor and scatter, and falls with detection", () => {
    const shareAbove = (rate: number) => Math.exp(-rate * 2000);
    const risk = (spacing: number, factor: number, scatter: number, detection: number) =>
      unsafeBeforeSeen(shareAbove, usableMarginMm(0.5, 0.8, scatter), factor, spacing, detection);
    expect(risk(200, 1.5, 0.01, 0.9)).toBeGreaterThan(risk(100, 1.5, 0.01, 0.9));
    expect(risk(100, 1.5, 0.01, 0.9)).toBeGreaterThan(risk(100, 1, 0.01, 0.9));
    expect(risk(100, 1.5, 0.05, 0.9)).toBeGreaterThan(risk(100, 1.5, 0.01, 0.9));
    expect(risk(100, 1.5, 0.01, 0.8)).toBeGreaterThan(risk(100, 1.5, 0.01, 0.9));
  });
});

describe("worse(a, b)", () => {
  it("takes the worse of each number, and no bound where one method sets none", () => {
    const life = { estimate: 0.02, lower: 0.01, upper: 0.05 };
    expect(worse(life, { estimate: 0.03, lower: null, upper: null })).toEqual({
      estimate: 0.03,
      lower: 0.01,
      upper: null,
    });
    expect(worse(life, null)).toBe(life);
  });
});

describe("greatestAge(lives, components, aircraft)", () => {
  it("is the age that enough components of enough aircraft reached (by hand)", () => {
    const life = (component: number, aircraft: string, lastHours: number) =>
      ({ component, aircraft, lastHours }) as Parameters<typeof greatestAge>[0][number];
    const lives = [life(1, "A", 900), life(2, "A", 800), life(3, "B", 700), life(4, "C", 600)];
    expect(greatestAge(lives, 2, 1)).toBe(800);
    expect(greatestAge(lives, 2, 2)).toBe(700);
    expect(greatestAge(lives, 5, 1)).toBe(0);
  });
});
