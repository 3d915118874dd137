import { describe, expect, it } from "vitest";
import { borrowedShape, risksWithShape, type ShapeLender } from "../../src/life/borrowed-shape.ts";
import { commonShape } from "../../src/life/comparisons.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { seededRandom } from "../../src/math/random.ts";
import { type LifeTable, lifeTable } from "../../src/records/life-table.ts";
import { apart, dataTable, dataText, reference } from "./reference-data.ts";
import { simulatedLives } from "./simulated-lives.ts";

function lender(table: LifeTable): ShapeLender {
  const fit = fitWeibull(table);
  if (fit.kind === "none") throw new Error(fit.why);
  return { table, fit };
}
function shared(own: LifeTable, lenders: readonly ShapeLender[]) {
  const found = borrowedShape(own, lenders);
  if (found.kind === "none") throw new Error(found.why);
  return found;
}

const RUNNING = Number.POSITIVE_INFINITY;
const noEvents = lifeTable([{ lowerHours: 1000, upperHours: RUNNING, count: 5 }]);
const FLEET = { shape: 3, aircraft: 12, perAircraft: 4, alike: 0, lookHours: 300, followedHours: 2500 };
const fleetOf = (scaleHours: number, seed: number, shape = 3): LifeTable =>
  simulatedLives({ ...FLEET, scaleHours, shape }, seededRandom(seed));

describe("borrowedShape(own, lenders) against R survreg with a stratum a group (reference/life.json)", () => {
  for (const entry of reference.commonShape) {
    it(`${entry.data}: shape, likelihood-ratio bounds and test`, () => {
      const groups = [
        ...new Set(
          dataText(entry.data)
            .trim()
            .split("\n")
            .slice(1)
            .map((row) => row.split(",").at(-1)!),
        ),
      ];
      const found = shared(
        noEvents,
        groups.map((group) => lender(dataTable(entry.data, group))),
      );
      const range = found.rangeAt(0.95)!;
      expect(apart(found.shape, entry.shape)).toBeLessThan(1e-6);
      expect(apart(range.from, entry.lower)).toBeLessThan(1e-5);
      expect(apart(range.to, entry.upper)).toBeLessThan(1e-5);
      expect(found.lendersTest.degreesOfFreedom).toBe(entry.degreesOfFreedom);
      expect(apart(found.lendersTest.chiSquared, entry.chiSquared)).toBeLessThan(1e-5);
      expect(apart(found.p, entry.p)).toBeLessThan(1e-5);
    });
  }
});

describe("borrowedShape(own, lenders)", () => {
  const lenders = [lender(fleetOf(1500, 1)), lender(fleetOf(900, 2)), lender(fleetOf(2000, 3))];

  it("is the common shape of the regression, found another way", () => {
    const common = commonShape(lenders.map(({ table }, g) => ({ group: `${g}`, table })));
    if (common.kind === "none") throw new Error(common.why);
    const found = shared(noEvents, lenders);
    expect(apart(found.shape, common.shape)).toBeLessThan(1e-6);
    expect(apart(found.lendersTest.chiSquared, common.test!.chiSquared)).toBeLessThan(1e-5);
  });

  it("does not depend on the order of the lenders", () => {
    const [forth, back] = [shared(noEvents, lenders), shared(noEvents, [...lenders].reverse())];
    expect(apart(forth.shape, back.shape)).toBeLessThan(1e-8);
    expect(apart(forth.rangeAt(0.95)!.to, back.rangeAt(0.95)!.to)).toBeLessThan(1e-7);
    expect(apart(forth.p, back.p)).toBeLessThan(1e-6);
  });

  it("with one lender there is nothing to share", () => {
    expect(borrowedShape(noEvents, lenders.slice(0, 1))).toMatchObject({
      kind: "none",
      why: "2 other groups of the part with a fit of their own are needed, there is 1",
    });
  });

  it("is rejected by lenders of different shapes, and by own events that come otherwise", () => {
    const others = [lenders[0]!, lender(fleetOf(900, 4, 1.2))];
    expect(shared(noEvents, others).lendersTest.p).toBeLessThan(0.01);
    // Two events at the very start among many long lives: constant risk, where the lenders' parts wear out.
    const early = lifeTable([
      { lowerHours: 20, upperHours: 20, count: 2 },
      { lowerHours: 3000, upperHours: RUNNING, count: 20 },
    ]);
    const found = shared(early, lenders);
    expect(found.lendersTest.p).toBeGreaterThan(0.05);
    expect(found.p).toBe(found.ownTest.p);
    expect(found.ownTest.p).toBeLessThan(0.01);
  });

  it("says nothing against lives without an event, or with one where the lenders expect it", () => {
    expect(shared(noEvents, lenders).ownTest).toMatchObject({ chiSquared: 0, p: 1 });
    const late = lifeTable([
      { lowerHours: 1400, upperHours: 1700 },
      { lowerHours: 1500, upperHours: RUNNING, count: 6 },
    ]);
    expect(shared(late, lenders).ownTest.p).toBeGreaterThan(0.1);
  });

  it("is known less well where lives of one aircraft are alike: every life four times, in its own aircraft", () => {
    const apartLives = [fleetOf(1500, 1), fleetOf(900, 2)];
    const copied = apartLives.map((table, g) => ({
      ...table,
      count: table.count.map((count) => 4 * count),
      cluster: table.cluster.map((_, row) => 1000 * g + row),
    }));
    const range = (tables: readonly LifeTable[]) => shared(noEvents, tables.map(lender)).rangeAt(0.95)!;
    const width = ({ from, to }: { from: number; to: number }) => Math.log(to / from);
    const single = apartLives.map((table, g) => ({ ...table, cluster: copied[g]!.cluster }));
    const alone = copied.map((table) => ({ ...table, cluster: table.cluster.map(() => -1) }));
    // Taken as independent, four copies halve the width; known to be copies, they leave it as it was.
    expect(width(range(alone)) / width(range(single))).toBeLessThan(0.55);
    expect(width(range(copied)) / width(range(single))).toBeGreaterThan(0.85);
  });
});

describe("risksWithShape(own, shape, range, confidence)", () => {
  const risk = ({ shape, scaleHours }: { shape: number; scaleHours: number }) =>
    -Math.expm1(-((500 / scaleHours) ** shape));

  it("by hand: 5 lives to 1000 h without an event, shape 2: 1 − 0.05^(1/5 · 0.5²) at 500 h", () => {
    const { estimate, upper, lower } = risksWithShape(noEvents, 2, { from: 2, to: 2 }, 0.95)(risk);
    expect(upper).toBeCloseTo(1 - 0.05 ** (0.25 / 5), 10);
    expect(estimate).toBe(0);
    expect(lower).toBeNull();
  });

  it("by hand: an event at 800 h among lives to 1000 h, estimate by events over the sum of t²", () => {
    const own = lifeTable([
      { lowerHours: 800, upperHours: 800 },
      { lowerHours: 1000, upperHours: RUNNING, count: 4 },
    ]);
    const hazard = 500 ** 2 / (800 ** 2 + 4 * 1000 ** 2);
    const { estimate, lower, upper } = risksWithShape(own, 2, { from: 1.5, to: 3 }, 0.95)(risk);
    expect(estimate).toBeCloseTo(-Math.expm1(-hazard), 6);
    expect(lower!).toBeLessThan(estimate);
    // The least shape is the worst one this early: chi-squared (0.95; 4) / 2 = 4.7439 over the sum of t^1.5.
    const worst = (4.743865 * 500 ** 1.5) / (800 ** 1.5 + 4 * 1000 ** 1.5);
    expect(upper).toBeCloseTo(-Math.expm1(-worst), 6);
  });
});
