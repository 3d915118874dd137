import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { poissonLimitCount, removalAlerts } from "../../src/trend/control-limits.ts";
import type { MonthCount } from "../../src/trend/removal-rate.ts";
import { trendReference } from "./read-reference.ts";

const months = (removals: number[], flightHours = 1000): MonthCount[] =>
  removals.map((count, i) => ({
    month: `20${20 + Math.floor(i / 12)}-${String((i % 12) + 1).padStart(2, "0")}`,
    flightHours,
    removals: count,
  }));

describe("poissonLimitCount(mean, level)", () => {
  it("agrees with R's qpois at 95 and 99 % (reference/trend.json)", () => {
    const { means, p95, p99 } = trendReference.limitCount;
    means.forEach((mean, i) => {
      expect(poissonLimitCount(mean, 0.95)).toBe(p95[i]);
      expect(poissonLimitCount(mean, 0.99)).toBe(p99[i]);
    });
    expect(poissonLimitCount(0, 0.99)).toBe(0);
  });
});

describe("removalAlerts(months, options)", () => {
  const year = Array.from({ length: 12 }, () => 2);

  it("sets the limit by the window before the month, at the month's own hours", () => {
    const last = { month: "2021-01", flightHours: 2500, removals: 11 };
    const alert = removalAlerts([...months(year), last], { windowMonths: 12 }).months.at(-1);
    // 24 removals in 12000 h make 5 in 2500 h; P(X <= 11) >= 0.99 for a mean of 5 (R: qpois(0.99, 5) is 11).
    expect(alert).toMatchObject({
      kind: "limit",
      expected: 5,
      windowRemovals: 24,
      limitCount: 11,
      alertCount: 12,
      over: false,
    });
    const over = removalAlerts([...months(year), { ...last, removals: 12 }], { windowMonths: 12 }).months.at(
      -1,
    );
    // R: ppois(11, 5, lower = FALSE) = 0.00545309
    expect(over).toMatchObject({ over: true, chance: expect.closeTo(0.00545309, 8) });
  });

  it("opens at two of the last three months over, not at one, and closes again", () => {
    const open = (tail: number[]) => removalAlerts(months([...year, ...tail]), { windowMonths: 12 });
    expect(open([9, 2, 2]).open).toBe(false);
    expect(open([9, 2, 10]).open).toBe(true);
    expect(open([9, 2, 10]).overMonths).toEqual(["2021-01", "2021-03"]);
    expect(open([9, 10, 2, 2]).open).toBe(false);
  });

  it("has no limit before the window is full, nor where nothing flew", () => {
    const short = removalAlerts(months(year), { windowMonths: 12 });
    expect(short.months.every((month) => month.kind === "no-limit" && month.why === "window not full")).toBe(
      true,
    );
    const grounded = removalAlerts([...months(year), { month: "2021-01", flightHours: 0, removals: 1 }], {
      windowMonths: 12,
    });
    expect(grounded.months.at(-1)).toMatchObject({ kind: "no-limit", why: "no hours" });
    expect(removalAlerts([], { windowMonths: 12 })).toEqual({
      ...{ months: [], open: null, overMonths: [], unknownMonths: [] },
    });
  });

  it("does not know whether an alert is open where two of the last three months may be over", () => {
    const following = (...tail: { flightHours: number; removals: number }[]) => {
      const { open, unknownMonths } = removalAlerts(
        [...months(year), ...tail.map((one, at) => ({ month: `2021-0${at + 1}`, ...one }))],
        { windowMonths: 12 },
      );
      return { open, unknownMonths };
    };
    const flown = (removals: number) => ({ flightHours: 1000, removals });
    const notFlown = (removals: number) => ({ flightHours: 0, removals });
    // 2 a month are usual: 9 are over, 2 are not.
    expect(following(flown(2), notFlown(5), notFlown(4))).toEqual({
      open: null,
      unknownMonths: ["2021-02", "2021-03"],
    });
    expect(following(flown(9), flown(2), notFlown(1)).open).toBeNull();
    expect(following(flown(2), flown(2), notFlown(9)).open).toBe(false);
    expect(following(flown(9), flown(9), notFlown(9)).open).toBe(true);
    // Nothing came off in them, so they are not over, whatever was flown.
    expect(following(notFlown(0), notFlown(0), notFlown(0))).toEqual({ open: false, unknownMonths: [] });
    // A window that isn't full: 3 months, of which two had removals.
    expect(removalAlerts(months([0, 7, 8]), { windowMonths: 12 }).open).toBeNull();
  });

  it("is over by luck in fewer than 2 % of months where nothing changes (seeded, 12000 months)", () => {
    const random = seededRandom(17);
    const poisson = (mean: number) => {
      let count = -1;
      for (let sum = 0; sum < mean; sum += random.exponential()) count++;
      return count;
    };
    let over = 0;
    const steady = months(Array.from({ length: 12012 }, () => poisson(4)));
    for (const month of removalAlerts(steady, { windowMonths: 12 }).months) {
      if (month.kind === "limit" && month.over) over++;
    }
    // A known mean would give at most 1 %; a window of 12 months adds a little.
    expect(over / 12000).toBeGreaterThan(0.002);
    expect(over / 12000).toBeLessThan(0.02);
  });
});
