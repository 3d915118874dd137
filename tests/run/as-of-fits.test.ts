import { describe, expect, it } from "vitest";
import { ExportError } from "../../src/problems.ts";
import { settleRows } from "../../src/records/settle-rows.ts";
import { asOfFits } from "../../src/run/as-of-fits.ts";
import { dayFromIso, isoMonth } from "../../src/units.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";
import { makeMonth } from "../support/make-month.ts";

const DATA_END = dayFromIso("2026-03-30")!;

function monthAt(asOf: string, rows: { used: number; afterAsOf: number } = { used: 9, afterAsOf: 0 }) {
  const day = dayFromIso(asOf)!;
  const inputs = makeMonth().inputs.map((input) => ({ ...input, unassigned: 0, ...rows }));
  return makeMonth({ asOf: day, month: isoMonth(day), latestDay: DATA_END, inputs });
}

describe("asOfFits(month)", () => {
  it("takes the month that the exports end in, and one before it", () => {
    expect(asOfFits(monthAt("2026-03-31"))).toBeNull();
    expect(asOfFits(monthAt("2026-02-28", { used: 4, afterAsOf: 5 }))).toBeNull();
  });

  it("warns where the exports hold nothing of the month", () => {
    expect(asOfFits(monthAt("2026-04-30"))).toContain(
      "hold nothing of 2026-04: their latest date up to 2026-04-30 is 2026-03-30",
    );
  });

  it("refuses a day before every row where rows have unknown words too", () => {
    const exports = makeExports({ looks: [{ serial: "S1", on: "2026-03-10", hours: 100, wear: 0.1 }] });
    exports.wear!.unassigned[0] = 1;
    const [wear] = exports.files;
    const files = [{ ...wear!, read: 1, accepted: 1, unassigned: 1 }];
    const inputs = settleRows({ ...exports, files }, dayOfText("1990-01-01"));
    expect(() => asOfFits({ ...monthAt("1990-01-01"), inputs })).toThrow(/all 1 rows are later/);
  });

  it("refuses a clock far ahead, and one before every row (ExportError)", () => {
    expect(asOfFits(monthAt("2026-06-30"))).toContain("2026-06");
    expect(() => asOfFits(monthAt("2026-07-31"))).toThrow(ExportError);
    expect(() => asOfFits(monthAt("2036-01-31"))).toThrow(/they end on 2026-03-30; .* clock right/);
    expect(() => asOfFits(monthAt("1969-12-31", { used: 0, afterAsOf: 9 }))).toThrow(/all 9 rows are later/);
  });
});
