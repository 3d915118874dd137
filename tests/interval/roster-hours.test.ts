import { describe, expect, it } from "vitest";
import { hoursSinceLook, overdueContext } from "../../src/interval/overdue.ts";
import { rosterHours } from "../../src/interval/roster-hours.ts";
import type { FlyingRows } from "../../src/records/exports.ts";
import { isoDate } from "../../src/units.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";
import { makeMonth } from "../support/make-month.ts";

/** One component of aircraft A1 with 900 h now by a roster exported on a day, and 30 h flown in each of some months. */
function fleetOf(exported: string | null, months: readonly string[] | null) {
  const exports = makeExports({
    fitted: [{ serial: "S1", on: "2026-01-01", hours: 500, hoursNow: 900, aircraft: "A1" }],
  });
  const files = exports.files.map((file) => ({
    ...file,
    exported: exported === null || file.kind !== "installed" ? null : dayOfText(exported),
  }));
  const flying: FlyingRows | null = months && {
    rows: months.length,
    file: new Uint16Array(months.length),
    line: Int32Array.from(months, (_, i) => i + 2),
    unassigned: new Uint8Array(months.length),
    month: Int32Array.from(months, (month) => dayOfText(`${month}-01`)),
    aircraft: { codes: new Int16Array(months.length), words: ["A1"] },
    environment: { codes: new Int16Array(months.length), words: ["temperate"] },
    hours: new Float64Array(months.length).fill(30),
  };
  return { ...exports, files, flying };
}

const hoursAt = (asOf: string, exported: string | null, months: readonly string[] | null = null) =>
  rosterHours(fleetOf(exported, months), dayOfText(asOf))(0);

describe("rosterHours(exports, asOf)", () => {
  it("takes a roster of the day or before, one without a day, and one of the first days after", () => {
    expect(hoursAt("2026-08-31", "2026-08-31")).toBe(900);
    expect(hoursAt("2026-08-31", "2026-06-30")).toBe(900);
    expect(hoursAt("2026-08-31", null)).toBe(900);
    expect(hoursAt("2026-08-31", "2026-09-04")).toBe(900);
  });

  it("takes off a later one what its aircraft flew in the whole months since", () => {
    const months = ["2026-07", "2026-08", "2026-09", "2026-10"];
    expect(hoursAt("2026-08-31", "2026-09-30", months)).toBe(870);
    expect(hoursAt("2026-08-31", "2026-10-31", months)).toBe(840);
    expect(hoursAt("2026-07-31", "2026-10-04", months)).toBe(840);
    // The rest of a month begun is left in where it is short.
    expect(hoursAt("2026-08-25", "2026-09-30", months)).toBe(870);
  });

  it("knows nothing of a later one where the hours since can't be told", () => {
    expect(hoursAt("2026-08-31", "2026-09-30")).toBeNaN();
    expect(hoursAt("2026-08-31", "2026-09-30", ["2026-08"])).toBeNaN();
    expect(hoursAt("2026-08-31", "2026-10-31", ["2026-08", "2026-10"])).toBeNaN();
    expect(hoursAt("2026-08-31", "2026-09-20", ["2026-08", "2026-09"])).toBeNaN();
    expect(hoursAt("2026-08-10", "2026-09-30", ["2026-08", "2026-09"])).toBeNaN();
  });
});

describe("hoursSinceLook(context, component, lastLook)", () => {
  const since = (asOf: string, exported: string, months: readonly string[] | null = null) => {
    const context = overdueContext(fleetOf(exported, months), makeMonth().fleet, dayOfText(asOf));
    const found = hoursSinceLook(context, 0, -1);
    return found && [found.hours, isoDate(found.until)];
  };

  it("says up to which day its hours are known", () => {
    expect(since("2026-12-31", "2026-09-30")).toEqual([400, "2026-09-30"]);
    expect(since("2026-08-31", "2026-09-30", ["2026-09"])).toEqual([370, "2026-08-31"]);
    expect(since("2026-08-31", "2026-09-30")).toBeNull();
  });
});
