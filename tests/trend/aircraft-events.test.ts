import { describe, expect, it } from "vitest";
import { aircraftEvents } from "../../src/trend/aircraft-events.ts";
import { meanCumulative } from "../../src/trend/mean-cumulative.ts";
import { monthNumber } from "../../src/units.ts";
import { dayOfText } from "../support/make-exports.ts";

const [JANUARY, FEBRUARY] = [monthNumber(dayOfText("2025-01-01")), monthNumber(dayOfText("2025-02-01"))];
/** An hour a day: A1 in both months, A2 in January; A3 flew nothing. */
const FLEET = {
  aircraft: ["A1", "A2", "A3"],
  start: [0, 2, 3, 4],
  month: [JANUARY, FEBRUARY, JANUARY, JANUARY],
  hours: [31, 28, 28, 0],
};

describe("aircraftEvents(fleet, events)", () => {
  it("places the middle of a day on the aircraft's own hours, month after month (by hand)", () => {
    const { units, leftOut } = aircraftEvents(FLEET, [
      // 1 h a day: half a day into January; half a day into February, after January's 31 h.
      { aircraft: "A1", day: dayOfText("2025-01-01") },
      { aircraft: "A1", day: dayOfText("2025-02-01") },
    ]);
    expect(units).toEqual([
      { endHours: 59, eventHours: [0.5, 31.5] },
      { endHours: 28, eventHours: [] },
    ]);
    expect(leftOut).toBe(0);
    expect(meanCumulative(units).map(({ hours, atRisk, mean }) => [hours, atRisk, mean])).toEqual([
      [0.5, 2, 0.5],
      // Only A1 flew so far.
      [31.5, 1, 1.5],
    ]);
  });

  it("leaves out, and counts, what it can't place: no aircraft, one that flew nothing there that month", () => {
    const { units, leftOut } = aircraftEvents(FLEET, [
      { aircraft: null, day: dayOfText("2025-01-05") },
      { aircraft: "A9", day: dayOfText("2025-01-05") },
      { aircraft: "A2", day: dayOfText("2025-02-05") },
      { aircraft: "A3", day: dayOfText("2025-01-05") },
    ]);
    expect(leftOut).toBe(4);
    expect(units.flatMap(({ eventHours }) => eventHours)).toEqual([]);
  });
});
