import { describe, expect, it } from "vitest";
import { settleRows } from "../../src/records/settle-rows.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";

/** Looks of 2026-01, 2026-02 and 2026-03; an unknown word in the first and the last. */
function threeLooks() {
  const looks = ["2026-01-10", "2026-02-10", "2026-03-10"].map((on, i) => ({
    ...{ serial: "S1", on, hours: 100 * (i + 1), wear: 0.1 },
  }));
  const exports = makeExports({ looks });
  exports.wear!.unassigned.set([1, 0, 1]);
  const [wear, ...others] = exports.files;
  return { ...exports, files: [{ ...wear!, read: 3, accepted: 3, unassigned: 2 }, ...others] };
}

const settledAt = (asOf: string) => {
  const { used, unassigned, afterAsOf } = settleRows(threeLooks(), dayOfText(asOf))[0]!;
  return { used, unassigned, afterAsOf };
};

describe("settleRows(exports, asOf)", () => {
  it("counts a row after the day as after it, whatever its words, and the rest by hand", () => {
    expect(settledAt("2026-03-31")).toEqual({ used: 1, unassigned: 2, afterAsOf: 0 });
    expect(settledAt("2026-02-28")).toEqual({ used: 1, unassigned: 1, afterAsOf: 1 });
    expect(settledAt("2026-01-31")).toEqual({ used: 0, unassigned: 1, afterAsOf: 2 });
  });

  it("tells the latest date up to the day", () => {
    const latest = (asOf: string) => settleRows(threeLooks(), dayOfText(asOf))[0]!.latestUpToAsOf;
    expect(latest("2026-02-28")).toBe(dayOfText("2026-02-10"));
    expect(latest("1990-01-01")).toBeNull();
  });

  it("finds nothing up to a day before every row, unknown words or not", () => {
    expect(settledAt("1990-01-01")).toEqual({ used: 0, unassigned: 0, afterAsOf: 3 });
  });
});
