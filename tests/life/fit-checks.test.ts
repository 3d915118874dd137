import { describe, expect, it } from "vitest";
import { compareFamilies } from "../../src/life/alternatives.ts";
import { alternativeRisk, curveCheck, influences } from "../../src/life/fit-checks.ts";
import { type FittedWeibull, fitWeibull } from "../../src/life/weibull-fit.ts";
import { seededRandom } from "../../src/math/random.ts";
import { type LifeTable, lifeTable } from "../../src/records/life-table.ts";
import { dataTable } from "./reference-data.ts";
import { simulatedLives } from "./simulated-lives.ts";

function fitted(table: LifeTable): FittedWeibull {
  const fit = fitWeibull(table);
  if (fit.kind !== "fitted") throw new Error(fit.why);
  return fit;
}

const many = simulatedLives(
  {
    shape: 2.5,
    scaleHours: 2000,
    aircraft: 2000,
    perAircraft: 1,
    alike: 0,
    lookHours: 0,
    followedHours: 3000,
  },
  seededRandom(21),
);

/** Half the lives with a tenth of the scale: two populations in one. */
function mixed(): LifeTable {
  const early = simulatedLives(
    { shape: 4, scaleHours: 200, aircraft: 300, perAircraft: 1, alike: 0, lookHours: 0, followedHours: 3000 },
    seededRandom(22),
  );
  const rows = (table: LifeTable) =>
    Array.from({ length: table.rows }, (_, i) => ({
      lowerHours: table.lowerHours[i]!,
      upperHours: table.upperHours[i]!,
    }));
  return lifeTable([...rows(early), ...rows(many).slice(0, 300)]);
}

describe("curveCheck(fit, table)", () => {
  it("passes 2,000 Weibull lives, fails two populations taken as one", () => {
    expect(curveCheck(fitted(many), many)).toMatchObject({ agrees: true });
    const both = mixed();
    const check = curveCheck(fitted(both), both)!;
    expect(check.agrees).toBe(false);
    expect(check.greatestDistance).toBeGreaterThan(0.1);
  });

  it("reads intervals at both ends, so that the width of a look interval is no misfit", () => {
    const table = dataTable("cosmesis", "both");
    expect(curveCheck(fitted(table), table)).toMatchObject({ agrees: true, points: 10, outside: 1 });
  });
});

describe("alternativeRisk(families, risk)", () => {
  const overBy = (hours: number) => (survival: (hours: number) => number) => 1 - survival(hours);
  it("within the data the families agree, far before it they don't", () => {
    const fit = fitted(many);
    expect(Math.abs(alternativeRisk(compareFamilies(many, fit), overBy(2000))!.change)).toBeLessThan(0.15);
    expect(Math.abs(alternativeRisk(compareFamilies(many, fit), overBy(100))!.change)).toBeGreaterThan(0.5);
    expect(alternativeRisk(compareFamilies(many, fit), overBy(2000))!.aicDifference).toBeGreaterThan(20);
  });
  it("NIST 8.4.1.3: the lognormal is 0.12 behind by AIC (154.39 to 154.27)", () => {
    const table = dataTable("nist-8-4-1-3");
    const check = alternativeRisk(compareFamilies(table, fitted(table)), overBy(100))!;
    expect(check.best.family).toBe("lognormal");
    expect(check.aicDifference).toBeCloseTo(154.3925416 - 154.2692363, 6);
  });
});

describe("influences(fit, table)", () => {
  it("the one early failure of many, and its aircraft, move the 10 % life most", () => {
    const rows = Array.from({ length: 30 }, (_, i) => ({
      lowerHours: 900 + 10 * i,
      upperHours: 900 + 10 * i,
      cluster: 1 + (i % 5),
    }));
    const table = lifeTable([...rows, { lowerHours: 40, upperHours: 40, cluster: 9 }]);
    const [first, second] = influences(fitted(table), table);
    expect([first!.cluster, second!.row].sort()).toEqual([30, 9].sort());
    expect(first!.lifeRatio!).toBeGreaterThan(1.15);
    const smallest = influences(fitted(table), table, 0.1, 100).at(-1)!;
    expect(Math.abs(Math.log(smallest.lifeRatio!))).toBeLessThan(0.05);
  });
});

describe("influences(fit, table): which are fitted again", () => {
  it("are the same as when every aircraft and event is left out in turn", () => {
    const table = simulatedLives(
      {
        shape: 3,
        scaleHours: 1500,
        aircraft: 12,
        perAircraft: 4,
        alike: 0.4,
        lookHours: 300,
        followedHours: 1500,
      },
      seededRandom(5),
    );
    const fit = fitted(table);
    const all = influences(fit, table, 0.1, table.rows + 12);
    const few = influences(fit, table, 0.1, 3);
    expect(few).toEqual(all.slice(0, 3));
    expect(all.filter(({ cluster }) => cluster !== null)).toHaveLength(12);
    expect(all.filter(({ row }) => row !== null)).toHaveLength(fit.events);
  });
});
