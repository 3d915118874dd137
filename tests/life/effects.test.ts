import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { factorEffects } from "../../src/life/effects.ts";
import { seededRandom } from "../../src/math/random.ts";
import { type LifeRow, lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable, dataText, reference } from "./reference-data.ts";

const lung: Record<string, string>[] = parse(dataText("lung"), { columns: true });
const sex = { name: "sex", levels: lung.map((row) => row.sex!) };
const able = { name: "able", levels: lung.map((row) => (row.ecog === "0" ? "TRUE" : "FALSE")) };

describe("factorEffects(table, factors, confidence)", () => {
  it("lung by sex and performance: R survreg's main effects and interaction (reference/life.json)", () => {
    const outcome = factorEffects(dataTable("lung"), [sex, able], 0.95);
    if (outcome.kind === "none") throw new Error(outcome.why);
    const [main, crossed] = reference.effects;
    expect(outcome.effects).toMatchObject([
      { factor: "sex", level: "2", against: "1" },
      { factor: "able", level: "TRUE", against: "FALSE" },
    ]);
    for (const [k, effect] of outcome.effects.entries()) {
      const [coefficient, error] = [main!.coefficients[k + 1]!, main!.standardErrors[k + 1]!];
      expect(apart(Math.log(effect.ratio), coefficient)).toBeLessThan(1e-6);
      expect(apart(Math.log(effect.upper), coefficient + 1.959963984540054 * error)).toBeLessThan(1e-5);
    }
    expect(outcome.interaction!.degreesOfFreedom).toBe(1);
    expect(outcome.interaction!.chiSquared).toBeCloseTo(
      2 * (crossed!.logLikelihood - main!.logLikelihood),
      6,
    );
  });

  it("finds a standard that doubles life in two environments, and no interaction (simulated, truth 2)", () => {
    const random = seededRandom(15);
    const rows: LifeRow[] = [];
    const [standard, environment]: string[][] = [[], []];
    for (let i = 0; i < 400; i++) {
      const [shielded, sandy] = [i % 2 === 0, i % 4 < 2];
      const scale = 2000 * (shielded ? 2 : 1) * (sandy ? 0.4 : 1);
      const hours = scale * random.exponential() ** (1 / 2.5);
      const found = Math.ceil(hours / 300) * 300;
      rows.push(
        found > 2400
          ? { lowerHours: 2400, upperHours: Number.POSITIVE_INFINITY }
          : { lowerHours: found - 300, upperHours: found },
      );
      standard!.push(shielded ? "shielded" : "plain");
      environment!.push(sandy ? "sandy" : "temperate");
    }
    const outcome = factorEffects(
      lifeTable(rows),
      [
        { name: "standard", levels: standard! },
        { name: "environment", levels: environment! },
      ],
      0.95,
    );
    if (outcome.kind === "none") throw new Error(outcome.why);
    const effect = outcome.effects.find((each) => each.factor === "standard")!;
    const better = effect.level === "shielded" ? effect.ratio : 1 / effect.ratio;
    // Standard error about 0.05 on the log.
    expect(Math.abs(Math.log(better / 2))).toBeLessThan(0.16);
    expect(outcome.interaction!.p).toBeGreaterThan(0.01);
  });

  it("says so where there is one level only", () => {
    const table = dataTable("ball-bearings");
    const only = { name: "standard", levels: Array.from({ length: table.rows }, () => "plain") };
    expect(factorEffects(table, [only], 0.95)).toMatchObject({ kind: "none" });
  });
});
