import { describe, expect, it } from "vitest";
import { joinGaps } from "../../src/records/gap-join.ts";
import { dayOfText, type ExportsInput, type GapInput, makeExports } from "../support/make-exports.ts";

const settings = { asOf: dayOfText("2025-12-31"), airframeClock: false, sameClock: true };

/** One place: S1 until 1 March at 900 h, then S2 from new; read in words of the join. */
const PLACE: ExportsInput = {
  looks: [
    { serial: "S1", on: "2025-01-01", hours: 700, wear: 0.3 },
    { serial: "S1", on: "2025-03-01", hours: 900, wear: 0.51 },
    { serial: "S2", on: "2025-06-01", hours: 280, wear: 0.1 },
  ],
  removals: [{ serial: "S1", on: "2025-03-01", hours: 900, mode: "wear" }],
};

function joined(gaps: readonly GapInput[], over: ExportsInput = {}, changed = {}) {
  const exports = makeExports({ ...PLACE, ...over, gaps });
  const { joined: rows, notJoined } = joinGaps(exports, { ...settings, ...changed });
  return {
    rows: rows.map(({ component, hours, state }) => [
      exports.components.serial[component],
      Math.round(hours),
      state,
    ]),
    notJoined: Object.fromEntries(notJoined),
  };
}

describe("joinGaps(exports, settings), by hand", () => {
  it("joins whichever component was there that day, and gives the hours of its own clock", () => {
    // Half of the 59 days between two looks: 31 January, 700 + 200·30/59 = 802 h, where the gap records none.
    expect(joined([{ on: "2025-01-31", hours: Number.NaN, gap: 0.6, state: "found" }]).rows).toEqual([
      ["S1", 802, "found"],
    ]);
    expect(joined([{ on: "2025-01-31", hours: 790, gap: 0.6, state: "found" }]).rows).toEqual([
      ["S1", 790, "found"],
    ]);
  });

  it("on the day of a change joins as found to the one that leaves, as left to the one that comes", () => {
    const change: GapInput[] = [
      { on: "2025-03-01", hours: 900, gap: 1.2, state: "found" },
      { on: "2025-03-01", hours: 0, gap: 0.4, state: "left" },
    ];
    expect(joined(change).rows).toEqual([
      ["S1", 900, "found"],
      ["S2", 0, "left"],
    ]);
    const fitted = [{ serial: "S2", on: "2025-03-01", hours: 0 }];
    const unrecorded = change.map((gap) => ({ ...gap, hours: Number.NaN }));
    expect(joined(unrecorded, { fitted }).rows).toEqual([
      ["S1", 900, "found"],
      ["S2", 0, "left"],
    ]);
  });

  it("of two parts behind one place takes the one whose hours the gap records, and guesses none", () => {
    const looks = [
      ...PLACE.looks!,
      { serial: "L1", on: "2025-01-01", hours: 4000, wear: 0.1 },
      { serial: "L1", on: "2025-03-01", hours: 4200, wear: 0.1 },
    ];
    const over = { looks, secondPart: ["L1"] };
    const at = (hours: number): GapInput[] => [{ on: "2025-01-31", hours, gap: 0.6, state: "found" }];
    expect(joined(at(4100), over).rows).toEqual([["L1", 4100, "found"]]);
    expect(joined(at(801), over).rows).toEqual([["S1", 801, "found"]]);
    expect(joined(at(Number.NaN), over)).toEqual({
      rows: [],
      notJoined: { "several components were there, and nothing tells them apart": 1 },
    });
    expect(joined(at(2000), over)).toEqual({
      rows: [],
      notJoined: { "its hours fit no component that was there": 1 },
    });
  });

  it("joins none where nobody was known to be, after the as-of day, or elsewhere", () => {
    expect(joined([{ on: "2024-06-01", hours: 300, gap: 0.6, state: "found" }]).notJoined).toEqual({
      "no component was there that day, as far as the records say": 1,
    });
    const elsewhere: GapInput = { on: "2025-02-01", hours: 800, gap: 0.6, state: "found", aircraft: "A2" };
    expect(joined([elsewhere]).rows).toEqual([]);
    expect(joined([{ on: "2026-02-01", hours: 800, gap: 0.6, state: "found" }])).toEqual({
      rows: [],
      notJoined: {},
    });
  });

  it("takes the component that the export names, wherever it was, and does not trust hours of another clock", () => {
    const named: GapInput = { serial: "S2", on: "2025-06-01", hours: 5280, gap: 0.5, state: "left" };
    expect(joined([named], {}, { sameClock: false }).rows).toEqual([["S2", 280, "left"]]);
    expect(joined([named]).notJoined).toEqual({ "its hours fit no component that was there": 1 });
  });

  it("between two places joins neither: when it moved is not recorded", () => {
    const looks = [
      { serial: "S1", on: "2025-01-01", hours: 700, wear: 0.3 },
      { serial: "S1", on: "2025-03-01", hours: 900, wear: 0.4, aircraft: "A2" },
    ];
    const gap: GapInput = { on: "2025-02-01", hours: 800, gap: 0.6, state: "found" };
    expect(joined([gap, { ...gap, aircraft: "A2" }], { looks, removals: [] }).rows).toEqual([]);
  });
});
