import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { meanCumulative } from "../../src/trend/mean-cumulative.ts";
import { readUnits, trendReference } from "./read-reference.ts";

// Valve seats, 41 engines and 48 replacements: Nelson and Doganaksoy (1989); Nelson (1995), Technometrics 37. Data from
// R's survival::valveSeat. Days, events, at risk, mean, robust and Poisson standard error, recomputed; Nelson's printed
// means agree from memory.
const VALVE_SEATS = [
  [61, 1, 41, 0.02439, 0.024091, 0.02439],
  [98, 1, 41, 0.146341, 0.055199, 0.059744],
  [139, 2, 41, 0.219512, 0.07327, 0.073171],
  [298, 1, 41, 0.463415, 0.109607, 0.106315],
  [404, 1, 40, 0.683537, 0.135939, 0.129178],
  [581, 1, 38, 0.984852, 0.171204, 0.155738],
  [604, 1, 22, 1.059719, 0.185061, 0.16488],
  [646, 1, 13, 1.320465, 0.228505, 0.210655],
  [653, 2, 9, 1.542688, 0.311656, 0.262806],
];

describe("meanCumulative(units)", () => {
  it("gives the means and robust standard errors of the valve seats (Nelson 1995, recomputed)", () => {
    const points = meanCumulative(readUnits("valve-seats"));
    expect(points.reduce((sum, { events }) => sum + events, 0)).toBe(48);
    for (const [day, events, atRisk, mean, robust, poisson] of VALVE_SEATS) {
      expect(points.find(({ hours }) => hours === day)).toEqual({
        hours: day,
        events,
        atRisk,
        mean: expect.closeTo(mean!, 6),
        standardError: expect.closeTo(robust!, 6),
        poissonStandardError: expect.closeTo(poisson!, 6),
      });
    }
  });

  it.each(["valve-seats", "late-entry-events"])("agrees with R survival on %s, late entry too", (name) => {
    const reference = trendReference.meanCumulative.find(({ set }) => set === name)!;
    const points = meanCumulative(readUnits(name));
    expect(points.map(({ hours }) => hours)).toEqual(reference.hours);
    points.forEach(({ mean, standardError }, i) => {
      expect(mean / reference.mean[i]!).toBeCloseTo(1, 9);
      expect(standardError).toBeCloseTo(reference.standardError[i]!, 9);
    });
  });

  it("by hand: two units, a double event, one that ends first", () => {
    const points = meanCumulative([
      { endHours: 100, eventHours: [50, 50] },
      { endHours: 60, eventHours: [] },
      { entryHours: 55, endHours: 100, eventHours: [80] },
    ]);
    expect(points.map(({ hours, events, atRisk, mean }) => [hours, events, atRisk, mean])).toEqual([
      [50, 2, 2, 1],
      [80, 1, 2, 1.5],
    ]);
    // At 50 h: (2 - 1)/2 and (0 - 1)/2, squared and added.
    expect(points[0]!.standardError).toBeCloseTo(Math.SQRT1_2, 12);
  });

  it("refuses events outside a unit's observation", () => {
    expect(() => meanCumulative([{ endHours: 10, eventHours: [11] }])).toThrow(/outside the observation/);
    expect(() => meanCumulative([{ entryHours: 5, endHours: 10, eventHours: [5] }])).toThrow(/outside/);
    expect(() => meanCumulative([{ endHours: Number.NaN, eventHours: [] }])).toThrow(/invalid observation/);
    expect(meanCumulative([])).toEqual([]);
  });
});

describe("meanCumulative of units that come and go", () => {
  it("has the variance of the definition, summed unit by unit at each age", () => {
    const random = seededRandom(11);
    const units = Array.from({ length: 60 }, () => {
      const entryHours = random.below(4) === 0 ? random.below(200) : 0;
      const endHours = entryHours + 100 + random.below(500);
      const eventHours = Array.from({ length: random.below(4) }, () => {
        const span = endHours - entryHours;
        return entryHours + 10 * Math.ceil((span * random.uniform()) / 10);
      }).filter((hours) => hours <= endHours);
      return { entryHours, endHours, eventHours };
    });
    const ages = [...new Set(units.flatMap(({ eventHours }) => eventHours))].sort((a, b) => a - b);
    const sums = units.map(() => 0);
    const direct = ages.map((age) => {
      const atRisk = units.filter(({ entryHours, endHours }) => entryHours < age && age <= endHours);
      const of = (unit: (typeof units)[number]) => unit.eventHours.filter((hours) => hours === age).length;
      const jump = atRisk.reduce((sum, unit) => sum + of(unit), 0) / atRisk.length;
      for (const [i, unit] of units.entries())
        if (atRisk.includes(unit)) sums[i]! += (of(unit) - jump) / atRisk.length;
      return Math.sqrt(sums.reduce((sum, own) => sum + own * own, 0));
    });
    const points = meanCumulative(units);
    expect(points.map(({ hours }) => hours)).toEqual(ages);
    for (const [k, { standardError }] of points.entries()) expect(standardError).toBeCloseTo(direct[k]!, 12);
  });
});
