import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { fleetTrend } from "../../src/trend/fleet-trend.ts";
import { dayFromIso } from "../../src/units.ts";

const day = (iso: string) => dayFromIso(iso)!;
const YEAR = Array.from({ length: 12 }, (_, i) => `2025-${String(i + 1).padStart(2, "0")}`);
/** Ten times the flying in the last quarter. */
const SEASON = YEAR.map((month, i) => ({ month, flightHours: i < 9 ? 100 : 1000 }));

describe("fleetTrend(days, months, confidence)", () => {
  it("places the middle of a day on the hours flown until then", () => {
    const { system, leftOut } = fleetTrend(
      [day("2025-01-16"), day("2025-02-01"), day("2024-12-31"), day("2025-12-31")],
      SEASON,
      0.9,
    );
    expect(system.observedHours).toBe(3900);
    // 16 January is the middle of 31 days; 1 February is half a day of 28 into the second 100 h.
    expect(system.eventHours).toEqual([50, 100 + 100 / 56, expect.closeTo(3900 - 1000 / 62, 9)]);
    expect(leftOut).toBe(1);
  });

  it("sees no trend in a season where removals only follow the flying (seeded: 10 in 200 at 5 %)", () => {
    const random = seededRandom(23);
    let byHours = 0;
    for (let i = 0; i < 200; i++) {
      // A constant rate per hour: each event in a month with the chance of its hours, on any of its days.
      const days = Array.from({ length: 30 }, () => {
        let hours = random.uniform() * 3900;
        const month = SEASON.findIndex(({ flightHours }) => {
          hours -= flightHours;
          return hours < 0;
        });
        return day(`${YEAR[month]}-01`) + random.below(28);
      });
      const { laplace } = fleetTrend(days, SEASON, 0.9);
      if (laplace.kind === "tested" && laplace.pTwoSided < 0.05) byHours++;
    }
    // 10 expected, standard deviation 3.1.
    expect(byHours).toBeGreaterThan(1);
    expect(byHours).toBeLessThan(21);
  });

  it("sees the trend where removals come faster than the flying", () => {
    const late = Array.from({ length: 20 }, (_, i) => day("2025-11-20") + i);
    const { laplace, militaryHandbook, powerLaw } = fleetTrend(late, SEASON, 0.9);
    expect(laplace.kind === "tested" && laplace.pWorsening < 0.001).toBe(true);
    expect(militaryHandbook.kind === "tested" && militaryHandbook.pWorsening < 0.001).toBe(true);
    expect(powerLaw.kind === "fitted" && powerLaw.shapeLower > 1).toBe(true);
  });

  it("leaves out what came before the first hour, and has nothing to test without events or hours", () => {
    const idle = [
      { month: "2025-01", flightHours: 0 },
      { month: "2025-02", flightHours: 10 },
    ];
    expect(fleetTrend([day("2025-01-05")], idle, 0.9)).toMatchObject({
      leftOut: 1,
      laplace: { kind: "too-few-events" },
    });
    expect(fleetTrend([], [], 0.9)).toMatchObject({
      leftOut: 0,
      powerLaw: { kind: "too-few-events", events: 0 },
    });
  });
});
