import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { fitLeastSquares } from "../../src/wear/line.ts";
import { rateChange } from "../../src/wear/rate-change.ts";

/** 24 components on 8 aircraft, six looks each, another `extra` mm per 1000 h after 900 h. */
function fleet(seed: number, extra: number) {
  const random = seededRandom(seed);
  const rows: number[][] = [];
  for (let component = 0; component < 24; component++) {
    const rate = 0.2 * Math.exp(0.3 * random.normal());
    for (let look = 1; look <= 6; look++) {
      const hours = 300 * look;
      const after = Math.max(0, hours - 900);
      const wear = 0.02 + (rate * hours + extra * after) / 1000 + 0.01 * random.normal();
      rows.push([component, hours, wear, after]);
    }
  }
  const column = (k: number) => Float64Array.from(rows, (row) => row[k]!);
  return {
    table: {
      rows: rows.length,
      components: 24,
      component: Int32Array.from(column(0)),
      hours: column(1),
      wearMm: column(2),
    },
    after: column(3),
    aircraft: Int32Array.from({ length: 24 }, (_, k) => k % 8),
  };
}

describe("rateChange(table, hoursAfter, aircraft, confidence)", () => {
  it("is the coefficient of least squares with a line for each component (a second route to it)", () => {
    const { table, after, aircraft } = fleet(1, 0.1);
    const columns: Float64Array[] = [after.map((hours) => hours / 1000)];
    for (let component = 0; component < 24; component++) {
      const own = (value: (row: number) => number) =>
        Float64Array.from(after, (_, row) => (table.component[row] === component ? value(row) : 0));
      columns.push(
        own(() => 1),
        own((row) => table.hours[row]! / 1000),
      );
    }
    const direct = fitLeastSquares(columns, table.wearMm);
    const change = rateChange(table, after, aircraft);
    if (direct.kind !== "fitted" || change.kind !== "fitted") throw new Error("no fit");
    expect(change.changeMmPer1000Hours).toBeCloseTo(direct.coefficients[0]!, 10);
    expect(change).toMatchObject({ components: 24, aircraft: 8 });
  });

  it("finds a change that is there, and its bounds hold it; finds none in about 95 of 100 fleets without", () => {
    const { table, after, aircraft } = fleet(2, 0.1);
    const change = rateChange(table, after, aircraft);
    if (change.kind !== "fitted") throw new Error(change.kind);
    expect(change.lower).toBeLessThan(0.1);
    expect(change.upper).toBeGreaterThan(0.1);
    expect(change.lower).toBeGreaterThan(0.05);
    let none = 0;
    for (let seed = 100; seed < 200; seed++) {
      const flat = fleet(seed, 0);
      const found = rateChange(flat.table, flat.after, flat.aircraft);
      if (found.kind === "fitted" && found.lower <= 0 && found.upper >= 0) none++;
    }
    // 95 expected; under 89 happens once in a hundred with a true 95 %.
    expect(none).toBeGreaterThanOrEqual(89);
  });

  it("says when too few components were read on both sides", () => {
    const { table, aircraft } = fleet(1, 0);
    const never = new Float64Array(table.rows);
    expect(rateChange(table, never, aircraft)).toEqual({ kind: "too-few", components: 0, aircraft: 0 });
    const always = table.hours.slice();
    expect(rateChange(table, always, aircraft)).toMatchObject({ kind: "too-few", components: 0 });
  });
});
