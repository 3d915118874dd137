import { describe, expect, it } from "vitest";
import { clusterVariance, inflationFactor } from "../../src/life/cluster.ts";
import { bootstrapValues, clusterBootstrap } from "../../src/life/cluster-bootstrap.ts";
import { lifeAt } from "../../src/life/profile-bounds.ts";
import { type FittedWeibull, fitWeibull } from "../../src/life/weibull-fit.ts";
import { seededRandom } from "../../src/math/random.ts";
import { type LifeTable, lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable } from "./reference-data.ts";
import { simulatedLives } from "./simulated-lives.ts";

const tenPercentLife = (p: { shape: number; scaleHours: number }) => Math.log(lifeAt(p, 0.1));

function fitted(table: LifeTable): FittedWeibull {
  const fit = fitWeibull(table);
  if (fit.kind !== "fitted") throw new Error(fit.why);
  return fit;
}

/** Every life `times` times, all copies of one life in one cluster. */
function copied(table: LifeTable, times: number): LifeTable {
  const rows = Array.from({ length: table.rows }, (_, i) => i).flatMap((i) =>
    Array.from({ length: times * table.count[i]! }, (_, k) => ({
      lowerHours: table.lowerHours[i]!,
      upperHours: table.upperHours[i]!,
      cluster: 1000 * i + Math.floor(k / times),
    })),
  );
  return lifeTable(rows);
}

describe("clusterVariance(fit, table)", () => {
  it("copies of a life in one cluster carry no more than the life: the sandwich is that of the lives alone", () => {
    const table = dataTable("cosmesis");
    const alone = clusterVariance(fitted(table), table);
    const fourfold = copied(table, 4);
    const fit = fitted(fourfold);
    const together = clusterVariance(fit, fourfold);
    expect(together.clusters).toBe(94);
    for (const k of [0, 1, 3] as const) {
      expect(apart(together.sandwich[k], alone.sandwich[k])).toBeLessThan(1e-7);
      expect(apart(together.plain[k], alone.plain[k] / 4)).toBeLessThan(1e-7);
    }
    // So the plain variance is to be raised by four, times what the sandwich says of the lives alone.
    const single = inflationFactor(fit, { ...alone, plain: together.plain }, tenPercentLife);
    expect(inflationFactor(fit, together, tenPercentLife)).toBeCloseTo(single, 6);
    expect(single).toBeGreaterThan(2.5);
  });

  it("never narrows: a factor below 1 counts as 1, and one aircraft alone gives no bound", () => {
    const random = seededRandom(3);
    for (let i = 0; i < 40; i++) {
      const table = simulatedLives(
        {
          shape: 2,
          scaleHours: 1000,
          aircraft: 20,
          perAircraft: 2,
          alike: 0,
          lookHours: 0,
          followedHours: 1500,
        },
        random,
      );
      const fit = fitted(table);
      expect(inflationFactor(fit, clusterVariance(fit, table), tenPercentLife)).toBeGreaterThanOrEqual(1);
      const one = { ...table, cluster: new Int32Array(table.rows) };
      expect(inflationFactor(fit, clusterVariance(fit, one), tenPercentLife)).toBe(Number.POSITIVE_INFINITY);
    }
  });
});

describe("clusterBootstrap(fit, table, options)", () => {
  it("spreads as the sandwich says where clusters are many, by refits and by single steps alike", () => {
    const table = simulatedLives(
      {
        shape: 2.5,
        scaleHours: 2000,
        aircraft: 90,
        perAircraft: 4,
        alike: 0.5,
        lookHours: 300,
        followedHours: 3000,
      },
      seededRandom(8),
    );
    // The same lives in two halves each: more rows than are refitted, the same likelihood.
    const rows = Array.from({ length: table.rows }, (_, i) => i).flatMap((i) => {
      const [lowerHours, upperHours, cluster] = [
        table.lowerHours[i]!,
        table.upperHours[i]!,
        table.cluster[i]!,
      ];
      const middle = lowerHours / 2;
      return [
        { lowerHours: middle, upperHours: Number.POSITIVE_INFINITY, cluster },
        { entryHours: middle, lowerHours, upperHours, cluster },
      ];
    });
    const spread = (each: LifeTable) => {
      const fit = fitted(each);
      const values = bootstrapValues(
        clusterBootstrap(fit, each, { seed: 4, resamples: 300 }),
        tenPercentLife,
      );
      const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
      return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
    };
    const refits = spread(table);
    const steps = spread(lifeTable(rows));
    expect(apart(steps, refits)).toBeLessThan(0.1);
    const fit = fitted(table);
    const { sandwich } = clusterVariance(fit, table);
    const h = 1e-5;
    const at = (alpha: number, beta: number) =>
      tenPercentLife({ shape: beta, scaleHours: Math.exp(fit.likelihood.centre - alpha / beta) });
    const a = (at(fit.alpha + h, fit.beta) - at(fit.alpha - h, fit.beta)) / (2 * h);
    const b = (at(fit.alpha, fit.beta + h) - at(fit.alpha, fit.beta - h)) / (2 * h);
    const byFormula = Math.sqrt(a * a * sandwich[0] + 2 * a * b * sandwich[1] + b * b * sandwich[3]);
    expect(apart(refits, byFormula)).toBeLessThan(0.2);
  });

  it("is the same for the same seed", () => {
    const table = dataTable("cosmesis");
    const fit = fitted(table);
    const values = (seed: number) =>
      bootstrapValues(clusterBootstrap(fit, table, { seed, resamples: 20 }), tenPercentLife);
    expect(values(1)).toEqual(values(1));
    expect(values(2)).not.toEqual(values(1));
  });
});
