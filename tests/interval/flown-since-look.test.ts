import { describe, expect, it } from "vitest";
import { withHoursFlown } from "../../src/interval/flown-since-look.ts";
import { overdueContext } from "../../src/interval/overdue.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";
import { makeMonth } from "../support/make-month.ts";

const look = (serial: string, on: string, hours: number) => ({ serial, on, hours, wear: 0.1 });

/** Three components: looked at twice and once after the day; roster behind its look; no roster row. */
function flown(asOf: string): (number | null)[] {
  const exports = makeExports({
    looks: [
      look("S1", "2026-01-10", 300),
      look("S1", "2026-02-10", 400),
      look("S1", "2026-04-10", 470),
      look("S2", "2026-02-10", 400),
      look("S3", "2026-02-10", 400),
    ],
    fitted: [
      { serial: "S1", on: "2025-01-01", hours: 0, hoursNow: 460 },
      { serial: "S2", on: "2025-01-01", hours: 0, hoursNow: 380 },
    ],
  });
  const month = makeMonth();
  const lines = exports.components.serial.map((serial, component) => {
    const { hoursFlownSince: _, ...line } = month.watchList[0]!;
    return { ...line, serial, component };
  });
  const context = overdueContext(exports, month.fleet, dayOfText(asOf));
  return withHoursFlown(lines, context).map(({ hoursFlownSince }) => hoursFlownSince);
}

describe("withHoursFlown(lines, context)", () => {
  it("counts from the last look up to the day; what a roster behind it, or none, can't say is not known", () => {
    expect(flown("2026-03-31")).toEqual([60, null, null]);
    expect(flown("2026-01-31")).toEqual([160, null, null]);
  });
});
