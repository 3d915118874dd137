import { describe, expect, it } from "vitest";
import { meanHoursBetween, removalMeans } from "../../src/trend/mtbr.ts";

// NIST/SEMATECH e-Handbook of Statistical Methods 8.4.5.1, factors for the mean at 60, 80, 90 and 95 % (two-sided):
// removals, then lower and upper factor for each. Formula as the page has it; the table recomputed from it in R.
const FACTORS: (number | null)[][] = [
  [0, 0.6213349346, null, Math.LOG10E, null, 0.3338082007, null, 0.2710850307, null],
  [
    1, 0.3339669413, 4.481420118, 0.2570879026, 9.491221581, 0.2107986002, 19.49572575, 0.1794802592,
    39.49789021,
  ],
  [
    2, 0.4673956634, 2.426041197, 0.3757759535, 3.760730244, 0.3176724207, 5.628071527, 0.2768285761,
    8.257321982,
  ],
  [
    5, 0.6324316161, 1.618364094, 0.5391025127, 2.055421543, 0.4756000568, 2.537878383, 0.4285102589,
    3.079791756,
  ],
  [
    10, 0.7325617155, 1.371888973, 0.6490707409, 1.607379904, 0.5895454988, 1.843180134, 0.5437632625,
    2.085336692,
  ],
  [
    20, 0.8088002268, 1.236668993, 0.7395054592, 1.376911531, 0.6881834366, 1.50890424, 0.6474927257,
    1.637127486,
  ],
  [
    50, 0.8788462267, 1.137069965, 0.828645408, 1.214209125, 0.7900507444, 1.283211681, 0.758509337,
    1.34731074,
  ],
  [
    100, 0.9145245157, 1.092879508, 0.8766198182, 1.143933925, 0.8468886846, 1.188505574, 0.8221872573,
    1.229044919,
  ],
  [
    500, 0.9620300964, 1.039306241, 0.9435909956, 1.060296336, 0.9287181084, 1.078057435, 0.9160709222,
    1.093784168,
  ],
];

describe("meanHoursBetween(removals, hours, confidence)", () => {
  it("agrees with the factors of NIST 8.4.5.1 (formula seen, table recomputed in R 4.2)", () => {
    for (const [removals, ...factors] of FACTORS) {
      [0.6, 0.8, 0.9, 0.95].forEach((confidence, i) => {
        const mean = meanHoursBetween(removals!, 1000, confidence);
        // The table's factors multiply the mean; those of no removals the total time.
        const unit = removals === 0 ? 1000 : 1000 / removals!;
        if (mean.kind === "no-hours") throw new Error("hours were given");
        expect(mean.lowerHours / unit).toBeCloseTo(factors[2 * i]!, 8);
        const upper = factors[2 * i + 1] ?? null;
        if (mean.kind === "estimated") expect(mean.upperHours / unit / upper!).toBeCloseTo(1, 8);
        else expect(upper).toBeNull();
      });
    }
  });

  it("gives NIST's example of 2 failures in 800 h: 400 h, 127 to 2251 (page's figures from memory, recomputed in R)", () => {
    expect(meanHoursBetween(2, 800, 0.9)).toEqual({
      kind: "estimated",
      removals: 2,
      hours: 800,
      meanHours: 400,
      lowerHours: expect.closeTo(127.068968, 5),
      upperHours: expect.closeTo(2251.22861, 4),
    });
  });

  it("has no estimate without removals, and nothing without hours", () => {
    // The chance of no removal at the lower limit is α/2: exp(-T/lower) = 0.025.
    const none = meanHoursBetween(0, 5000, 0.95);
    expect(none).toEqual({
      kind: "no-removals",
      hours: 5000,
      lowerHours: expect.closeTo(-5000 / Math.log(0.025), 8),
    });
    expect(meanHoursBetween(3, 0, 0.95)).toEqual({ kind: "no-hours", removals: 3 });
  });
});

describe("removalMeans(counts, confidence)", () => {
  it("keeps all, unscheduled and failures apart", () => {
    const means = removalMeans({ flightHours: 6000, all: 12, unscheduled: 6, failures: 4 }, 0.95);
    expect(means).toMatchObject({
      all: { meanHours: 500 },
      unscheduled: { meanHours: 1000 },
      failures: { meanHours: 1500 },
    });
  });
});
