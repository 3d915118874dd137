import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rowsByNumber } from "../../src/records/rows-by-number.ts";

interface Row {
  readonly number: number;
  readonly day: number;
  readonly hours: number;
}
const row: fc.Arbitrary<Row> = fc.record({
  number: fc.integer({ min: -1, max: 3 }),
  day: fc.integer({ min: 0, max: 5 }),
  hours: fc.oneof(fc.integer({ min: 0, max: 3 }), fc.constant(Number.NaN)),
});

/** The rows of each number, sorted by one comparison of everything. */
function plainly(rows: readonly Row[], count: number): number[][] {
  const last = (hours: number) => (Number.isNaN(hours) ? 1e9 : hours);
  return Array.from({ length: count }, (_, number) =>
    rows
      .map((one, at) => ({ ...one, at }))
      .filter((one) => one.number === number)
      .sort((a, b) => a.day - b.day || last(a.hours) - last(b.hours) || a.at - b.at)
      .map(({ at }) => at),
  );
}
function byNumber(rows: readonly Row[], count: number): number[][] {
  const { start, order } = rowsByNumber(
    count,
    Int32Array.from(rows, ({ number }) => number),
    Int32Array.from(rows, ({ day }) => day),
    Float64Array.from(rows, ({ hours }) => hours),
  );
  return Array.from({ length: count }, (_, at) => [...order.subarray(start[at]!, start[at + 1]!)]);
}

describe("rowsByNumber(count, number, day, hours, include)", () => {
  it("gathers as a plain sort does", () => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 30 }), (rows) => {
        expect(byNumber(rows, 4)).toEqual(plainly(rows, 4));
      }),
      { numRuns: 200, seed: 1 },
    );
  });

  it("gathers 400 rows that stand in the wrong order altogether", () => {
    const rows = Array.from({ length: 400 }, (_, at) => ({
      number: 0,
      day: -Math.floor(at / 2),
      hours: at % 3,
    }));
    expect(byNumber(rows, 1)).toEqual(plainly(rows, 1));
  });
});
