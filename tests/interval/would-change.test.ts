/** What would change the answer: by hand, and directions that must hold with the fit held fixed. */
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { tighterShareObserved } from "../../src/interval/tighter-observed.ts";
import { tighterShare, tighterShareOf } from "../../src/interval/tighter-share.ts";
import { monthsToSettle, wouldChange } from "../../src/interval/would-change.ts";
import type { RateParameters } from "../../src/wear/rate-families.ts";
import type { RateTail } from "../../src/wear/tail.ts";
import { makeLife } from "../records/make-life.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText } from "../support/make-exports.ts";

const same = (hours: number) => hours;

describe("tighterShare(below, passes, spacingH, greatestAgeH)", () => {
  it("finds nothing over R where all are taken off in time, for one look in two (by hand)", () => {
    // One rate: 0.50 mm at 1000 h. Looks every 450 h read 0.225 and 0.45 mm: taken off at 0.40 mm, the second.
    const below = (hours: number) => (hours < 800 ? 1 : 0);
    const passes = (before: number, hours: number) => (before < 800 && hours >= 1000 ? 1 : 0);
    expect(tighterShare(below, passes, 450, 0)).toEqual({ overLimit: 0, replaced: 0.5 });
  });

  it("finds every second one over R where the step is too long", () => {
    // Looks at 600 h (0.30 mm, left in) and 1200 h (0.60 mm): one find in two looks.
    const below = (hours: number) => (hours < 800 ? 1 : 0);
    const passes = (before: number, hours: number) => (before < 800 && hours >= 1000 ? 1 : 0);
    expect(tighterShare(below, passes, 600, 0)).toEqual({ overLimit: 0.5, replaced: 0.5 });
  });
});

const rates: RateParameters = {
  family: "lognormal",
  interceptMm: 0.01,
  interceptSdMm: 0.004,
  measurementSdMm: 0.003,
  location: Math.log(0.4),
  spread: 0.4,
};
const alone = [{ share: 1, parameters: rates }];
const at = (tighterMm: number, spacingH: number) =>
  tighterShareOf(alone, { replaceAtMm: 0.5, tighterMm }, spacingH, 2000, same);

describe("tighterShareOf(parts, limits, spacingH, greatestAgeH, onClock)", () => {
  it("agrees with 200 000 simulated lives that are replaced at 0.35 mm", () => {
    // Simulated with its own random numbers: rate and offset drawn, looks every 300 h until one is at the limit.
    let finds = 0;
    let looks = 0;
    let state = 12345;
    const uniform = () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return (state + 0.5) / 4294967296;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    for (let life = 0; life < 200_000; life++) {
      const rate = Math.exp(rates.location + rates.spread * normal());
      const offset = 0.01 + Math.hypot(0.004, 0.003) * normal();
      for (let hours = 300; ; hours += 300) {
        looks++;
        const wear = offset + (rate * hours) / 1000;
        if (wear < 0.35) continue;
        if (wear >= 0.5) finds++;
        break;
      }
    }
    const { overLimit, replaced } = tighterShareOf(
      alone,
      { replaceAtMm: 0.5, tighterMm: 0.35 },
      300,
      0,
      same,
    );
    // Standard error of the simulated share 0.0006; the part below 1e-3 is taken to pass.
    expect(Math.abs(overLimit - finds / looks)).toBeLessThan(0.002);
    expect(Math.abs(replaced - 200_000 / looks)).toBeLessThan(0.002);
  });

  it("falls with a tighter limit and rises with the interval", () => {
    expect(at(0.3, 300).overLimit).toBeLessThan(at(0.4, 300).overLimit);
    expect(at(0.4, 300).overLimit).toBeLessThan(at(0.5, 300).overLimit);
    expect(at(0.4, 300).overLimit).toBeLessThan(at(0.4, 400).overLimit);
    expect(at(0.3, 300).replaced).toBeGreaterThan(at(0.4, 300).replaced);
  });

  it("agrees with the mean over many single rates drawn evenly from the distribution", () => {
    const n = 2000;
    const quantile = (p: number) => {
      let low = -6;
      let high = 6;
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2;
        if (cdf(middle) < p) low = middle;
        else high = middle;
      }
      return (low + high) / 2;
    };
    const rateMmPer1000Hours = Float64Array.from({ length: n }, (_, i) =>
      Math.exp(rates.location + rates.spread * quantile((i + 0.5) / n)),
    );
    const tail = {
      fit: { parameters: rates },
      rates: { rateMmPer1000Hours, weight: new Float64Array(n).fill(1) },
    } as unknown as RateTail;
    const observed = tighterShareObserved(tail, { replaceAtMm: 0.5, tighterMm: 0.4 }, 300, 2000, same);
    expect(observed.overLimit).toBeCloseTo(at(0.4, 300).overLimit, 3);
  });

  it("goes through observed rates one by one to the same number", () => {
    const own = Float64Array.from({ length: 50 }, (_, i) => 0.1 + 0.02 * i);
    for (const scatter of [0.001, 0.02]) {
      const parameters = { ...rates, measurementSdMm: scatter };
      const tail = {
        fit: { parameters },
        rates: { rateMmPer1000Hours: own, weight: own.map((rate) => 1 / rate) },
      } as unknown as RateTail;
      const total = own.reduce((sum, rate) => sum + 1 / rate, 0);
      const mean = (of: (rate: number) => number) =>
        own.reduce((sum, rate) => sum + of(rate) / rate, 0) / total;
      const omega = Math.hypot(0.004, scatter);
      const share = (limitMm: number, rate: number, hours: number) =>
        cdf(Math.max(-9, Math.min(9, (limitMm - 0.01 - (rate * hours) / 1000) / omega)));
      const oneByOne = tighterShare(
        (hours) => mean((rate) => share(0.4, rate, hours)),
        (before, hours) => mean((rate) => Math.max(0, share(0.4, rate, before) - share(0.5, rate, hours))),
        300,
        2000,
      );
      const observed = tighterShareObserved(tail, { replaceAtMm: 0.5, tighterMm: 0.4 }, 300, 2000, same);
      expect(observed.overLimit).toBeCloseTo(oneByOne.overLimit, 6);
      expect(observed.replaced).toBeCloseTo(oneByOne.replaced, 6);
    }
  });
});

/** Standard normal distribution by Simpson's rule, apart from the program's own. */
function cdf(z: number): number {
  const steps = 200;
  const width = z / steps;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * Math.exp(-0.5 * (i * width) ** 2);
  }
  return 0.5 + ((width / 3) * sum) / Math.sqrt(2 * Math.PI);
}

const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const asOf = dayOfText("2024-12-31");

/** Bounds of the over-limit share from the lives, at 100, 200, … h; acceptable 0.10. No wear line. */
const question = (uppers: readonly number[], estimates: readonly number[], lookDays: readonly number[]) => {
  const risks = uppers.map((upper, i) => ({
    intervalH: 100 * (i + 1),
    overLimitPerInspection: { life: { estimate: estimates[i]!, lower: 0, upper }, wear: null },
    unsafeBeforeSeen: null,
  }));
  const longest = uppers.findIndex((upper) => upper > 0.1);
  return {
    fleet,
    task: fleet.tasks[0]!,
    evidence: {
      part: { ...fleet.parts[0]!, unsafeAtMm: null },
      lives: [makeLife({ readingHours: lookDays.map((_, i) => i), lookDays })],
      unsafeSetting: null,
      greatestAgeH: 1000,
    },
    lines: { wear: { kind: "none", why: "" } },
    risks,
    asOf,
    presentH: 100,
    longestH: longest <= 0 ? null : 100 * longest,
  } as unknown as Parameters<typeof wouldChange>[0];
};

describe("wouldChange(question)", () => {
  const old = Array.from({ length: 30 }, (_, i) => asOf - 400 - i);
  const lately = Array.from({ length: 10 }, (_, i) => asOf - i);

  it("narrows bounds by the square root of the looks for a year more (by hand)", () => {
    // 40 looks, 10 of them in a year: √0.8 of the log distance. 0.05 → 0.106 becomes 0.0979, 0.05 → 0.12 becomes 0.1094.
    const { yearMore } = wouldChange(question([0.06, 0.106, 0.12], [0.03, 0.05, 0.05], [...old, ...lately]));
    expect(yearMore).toEqual({ looks: 40, more: 10, longestH: 200 });
  });

  it("lets a bound with nothing found fall with the looks: 0.12 becomes 0.096", () => {
    const { yearMore } = wouldChange(question([0.06, 0.12, 0.13], [0, 0, 0], [...old, ...lately]));
    expect(yearMore!.longestH).toBe(200);
  });

  it("promises nothing of another year where none of the looks is new", () => {
    expect(wouldChange(question([0.06, 0.12], [0.03, 0.03], old)).yearMore).toBeNull();
  });

  it("tries no detection chance, unsafe-at or tighter limit without a wear line", () => {
    expect(wouldChange(question([0.06, 0.12], [0.03, 0.03], old))).toMatchObject({
      detection: [],
      unsafeAt: [],
      tighter: null,
    });
  });
});

describe("monthsToSettle(risk, evidence, fleet, asOf)", () => {
  const looks = (last: number) => {
    const days = Array.from({ length: 40 }, (_, i) => (i < last ? asOf - i : asOf - 400 - i));
    return [makeLife({ readingHours: days.map((_, i) => i), lookDays: days })];
  };
  const months = (estimate: number, upper: number | null, last = 10) =>
    monthsToSettle(
      {
        intervalH: 300,
        overLimitPerInspection: { life: null, wear: { estimate, lower: 0, upper } },
        unsafeBeforeSeen: null,
      },
      { lives: looks(last), part: { ...fleet.parts[0]!, unsafeAtMm: null } },
      fleet,
      asOf,
    );

  it("asks for four times the looks where the log distance must halve: 120 more at 10 a year, 144 months (by hand)", () => {
    // 0.025 → 0.40 must become 0.025 → 0.10: ln 16 to ln 4.
    expect(months(0.025, 0.4)).toBe(144);
    expect(months(0.025, 0.4, 20)).toBe(72);
  });

  it("asks for looks in proportion where nothing was found: 0.15 to 0.10 takes half as many again, 24 months", () => {
    expect(months(0, 0.15)).toBe(24);
  });

  it("is null where waiting can't settle it: estimate over, no bound, no new looks, or nothing to settle", () => {
    expect(months(0.11, 0.2)).toBeNull();
    expect(months(0.05, null)).toBeNull();
    expect(months(0.05, 0.2, 0)).toBeNull();
    expect(months(0.05, 0.09)).toBeNull();
  });
});
