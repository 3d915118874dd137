import { describe, expect, it } from "vitest";
import { dropsAt, lifeRedraw, simulateRoots } from "../../src/life/calibrate.ts";
import { oneSidedDrop } from "../../src/life/likelihood-drop.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { seededRandom } from "../../src/math/random.ts";
import { lifeKind } from "../../src/records/life-table.ts";
import { dataTable } from "./reference-data.ts";
import { simulatedLives } from "./simulated-lives.ts";

function fitted(table: Parameters<typeof fitWeibull>[0]) {
  const fit = fitWeibull(table);
  if (fit.kind !== "fitted") throw new Error(fit.why);
  return fit;
}

describe("dropsAt(simulateRoots(fit, table, options), confidence)", () => {
  const fleet = { shape: 2, scaleHours: 1000, perAircraft: 1, alike: 0, lookHours: 0 };

  it("with many events comes to the chi-squared drop, within simulation error", () => {
    const table = simulatedLives({ ...fleet, aircraft: 200, followedHours: 3000 }, seededRandom(2));
    const drops = dropsAt(simulateRoots(fitted(table), table, { resamples: 600, seed: 3 }), 0.95);
    const plain = oneSidedDrop(0.95);
    // Standard error of a 95 % quantile of 600 normal roots is 0.087, so 0.29 on the drop; three of them.
    for (const drop of [drops.shortLife, drops.longLife]) {
      expect(drop).toBeGreaterThanOrEqual(plain);
      expect(drop).toBeLessThan(plain + 0.9);
    }
    expect(drops.withoutFit).toBe(0);
  });

  it("with six lives, all with an event, asks for wider bounds, and is the same for the same seed", () => {
    const table = simulatedLives({ ...fleet, aircraft: 6, followedHours: 1e6 }, seededRandom(6));
    const fit = fitted(table);
    expect(fit.events).toBe(6);
    const options = { confidence: 0.95, resamples: 400, seed: 9 };
    const drops = dropsAt(simulateRoots(fit, table, options), options.confidence);
    expect(Math.max(drops.shortLife, drops.longLife)).toBeGreaterThan(oneSidedDrop(0.95) * 1.2);
    expect(dropsAt(simulateRoots(fit, table, options), options.confidence)).toEqual(drops);
  });
});

describe("lifeRedraw(truth, table)", () => {
  it("keeps entries, the kind of observation and about the number of events", () => {
    for (const name of ["cosmesis", "retirement-home", "nist-8-4-1-3"]) {
      const table = dataTable(name);
      const fit = fitted(table);
      const draw = lifeRedraw(fit, table);
      const random = seededRandom(1);
      let events = 0;
      for (let r = 0; r < 60; r++) {
        const again = draw(random);
        expect(again.rows).toBe(fit.lives);
        for (let i = 0; i < again.rows; i++) {
          expect(again.lowerHours[i]!).toBeGreaterThanOrEqual(again.entryHours[i]!);
          const kind = lifeKind(again, i);
          if (kind !== "running") expect(kind === "exact").toBe(name !== "cosmesis");
          if (kind !== "running") events++;
        }
      }
      expect(events / 60 / fit.events).toBeGreaterThan(0.85);
      expect(events / 60 / fit.events).toBeLessThan(1.15);
    }
  });
});
