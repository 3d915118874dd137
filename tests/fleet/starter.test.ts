import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { starterFleet } from "../../src/fleet/starter.ts";

const WEAR = {
  heading: ["Serial", "Inspected", "Hours", "Wear [mm]", "Tail", "Part no", "Arm", "Base", "Ring"],
  sampleRows: [
    ["0012", "01.02.2024", "512,5", "0,12", "SH-101", "GB-100-1", "A", "Saltpan North", "S"],
    ["0013", "01.02.2024", "512,5", "SAT", "SH-101", "GB-100-1", "B", "Highland", "P"],
    ["Serial", "Inspected", "Hours", "Wear [mm]", "Tail", "Part no", "Arm", "Base", "Ring"],
  ],
};
const SEEN = [
  {
    path: "exports/flying-2024-03.csv",
    heading: ["Month", "Tail", "Base", "Hours"],
    sampleRows: [["2024-03", "SH-101", "Coast", "41"]],
  },
  { path: "exports/wear-2024-02.csv", ...WEAR },
  { path: "exports/wear-2024-03.csv", ...WEAR },
  {
    path: "exports/removals-2024-03.csv",
    heading: ["Serial", "Part no", "Removed", "Hours", "Reason", "Found", "Shop finding"],
    sampleRows: [
      ["0012", "GB-100-3", "05.03.2024", "600", "LINER WORN", "INSP", "CONF"],
      ["0014", "GB-100-3", "05.03.2024", "600", "TIME EXPIRED", "SVC", "NFF"],
      ["0015", "GB-100-3", "05.03.2024", "600", "BIRD", "SVC", "?"],
    ],
  },
  {
    path: "exports/gaps-2024-03.csv",
    heading: ["Tail", "Arm", "Date", "Hours", "Gap", "State"],
    sampleRows: [["SH-101", "A", "2024-03-01", "1", "0.4", "F"]],
  },
  { path: "exports/crew.csv", heading: ["Name", "Shift"], sampleRows: [] },
];

/** What a person does with the starter: fills in limit and interval, nothing else. */
const filled = (text: string): string =>
  text.replace("replace_at: FILL IN", "replace_at: 0.50 mm").replace("interval: FILL IN", "interval: 600 h");

describe("starterFleet(files)", () => {
  const text = starterFleet(SEEN);

  it("is a fleet file once limit and interval are filled in, and names both before", () => {
    expect(() => readFleet(text, "fleet.yaml")).toThrow(
      /parts\[0\]\.replace_at: expected .*\n.*tasks\[0\]\.interval/,
    );
    const fleet = readFleet(filled(text), "fleet.yaml");
    expect(Object.keys(fleet.exports)).toEqual(["wear", "gaps", "removals", "flying"]);
    expect(fleet.exports.wear?.columns).toEqual({
      component: "Serial",
      date: "Inspected",
      hours: "Hours",
      wear: "Wear [mm]",
      aircraft: "Tail",
      part: "Part no",
      position: "Arm",
      environment: "Base",
      standard: "Ring",
    });
    expect(fleet.exports.removals?.columns.finding).toBe("Shop finding");
    expect(fleet.exports.gaps?.unit).toBe("mm");
  });

  it("puts the files of several months under one pattern, with the month in the name", () => {
    const fleet = readFleet(filled(text), "fleet.yaml");
    expect(fleet.exports.wear?.files).toEqual(["exports/wear-*.csv"]);
    expect(fleet.exports.wear?.exported).toEqual({ from: "name", pattern: "wear-{yyyy}-{MM}.csv" });
  });

  it("lists the recorded words of all exports; causes of no likely mode are a mode of their own", () => {
    const { words, parts } = readFleet(filled(text), "fleet.yaml");
    expect([...words.environments.keys()]).toEqual(["Saltpan North", "Highland", "Coast"]);
    expect([...words.standards]).toEqual([
      ["S", "S"],
      ["P", "P"],
    ]);
    expect([...words.causes]).toEqual([
      ["LINER WORN", "wear"],
      ["BIRD", "other"],
      ["TIME EXPIRED", "not a failure"],
    ]);
    expect([...words.findings]).toEqual([
      ["CONF", "confirmed"],
      ["NFF", "no fault found"],
    ]);
    expect([...words.wearWords]).toEqual([["SAT", "below limit"]]);
    expect(parts[0]?.partNumbers).toEqual(["GB-100-1", "GB-100-3"]);
    expect(text).toContain('# "?": FILL IN');
  });

  it("never lets an extension through unseen", () => {
    expect(readFleet(filled(text), "fleet.yaml").tasks[0]?.basis).toBe("airworthiness limitation");
  });

  it("says which files it left out, and asks where no wear export is there", () => {
    expect(text).toContain("# not taken: exports/crew.csv: no kind of export has the headings Name, Shift");
    expect(() => readFleet(starterFleet([]), "f")).toThrow(/exports\.wear: expected a mapping/);
  });

  it("says which columns are still possible, which headings it did not use, and how to write a missing export", () => {
    const wear = {
      path: "wear.csv",
      heading: ["S/N", "Insp date", "TSN", "Play [in]", "Seal type", "Inspector"],
      sampleRows: [["1", "01/31/2024", "5", "0.01", "OLD", "JB"]],
    };
    const own = starterFleet([wear, { path: "crew.csv", heading: ["Name", "Shift"], sampleRows: [] }]);
    expect(own).toContain("standard: Seal type");
    expect(own).toContain(
      "# also possible: aircraft, part, position, environment; headings not used: Inspector",
    );
    expect(own).toContain(
      "# by hand: removals: { files: …, columns: { component: …, date: …, hours: …, cause: … } }",
    );
    expect(readFleet(filled(own), "f").exports.wear?.columns.wear).toBe("Play [in]");
  });

  it("asks for the unit where nothing gives it", () => {
    const plain = {
      path: "wear.csv",
      heading: ["Serial", "Date", "Hours", "Wear"],
      sampleRows: [["1", "2024-01-01", "5", "0.1"]],
    };
    expect(starterFleet([plain])).toContain("unit: FILL IN");
    expect(starterFleet([{ ...plain, sampleRows: [["1", "2024-01-01", "5", "0.1 mm"]] }])).not.toContain(
      "unit:",
    );
  });

  it("finds the words in place of a reading among any number of readings", () => {
    const rows = Array.from({ length: 500 }, (_, i) => WEAR.sampleRows[0]!.with(3, `0,${100 + i}`));
    const words = ["US", "SAT"].map((word) => WEAR.sampleRows[0]!.with(3, word));
    const many = starterFleet([{ ...WEAR, path: "wear.csv", sampleRows: [...rows, ...words] }]);
    expect([...readFleet(filled(many), "f").words.wearWords]).toEqual([
      ["US", "over limit"],
      ["SAT", "below limit"],
    ]);
  });

  it("guesses no meaning from part of another word", () => {
    const wear = { ...WEAR, path: "wear.csv", sampleRows: [WEAR.sampleRows[0]!.with(3, "see card")] };
    expect(starterFleet([wear])).toContain("# see card: FILL IN");
    const causes = ["BEARING WORN", "UNSCHEDULED", "SEAL WORN"].map((cause) => [
      "1",
      "GB-1",
      "2024-03-05",
      "600",
      cause,
      "SVC",
      "NFF",
    ]);
    const fleet = readFleet(filled(starterFleet([{ ...SEEN[3]!, sampleRows: causes }])), "f");
    expect([...fleet.words.causes].sort()).toEqual([
      ["BEARING WORN", "wear"],
      ["SEAL WORN", "seal"],
      ["UNSCHEDULED", "other"],
    ]);
  });

  it("takes parts apart by the letters of their numbers", () => {
    const two = {
      ...WEAR,
      path: "wear.csv",
      sampleRows: [WEAR.sampleRows[0]!, WEAR.sampleRows[0]!.with(5, "LB-220-1")],
    };
    const fleet = readFleet(filled(filled(starterFleet([two]))), "f");
    expect(fleet.parts.map(({ partNumbers }) => partNumbers)).toEqual([["GB-100-1"], ["LB-220-1"]]);
  });

  it("writes any heading, path and cell so that it reads back as it was", () => {
    const cell = fc.string({ unit: "binary", maxLength: 12 });
    const nasty = fc.record({
      path: cell,
      base: cell,
      rows: fc.array(fc.tuple(cell, cell), { maxLength: 4 }),
    });
    fc.assert(
      fc.property(nasty, ({ path, base, rows }) => {
        const heading = ["Serial", "Date", "Hours [h]", "Wear (mm)", `Base ${base}`, "Standard"];
        const sampleRows = rows.map(([a, b]) => ["1", "2024-01-01", "5", "0.1", a, b]);
        fc.pre(path.trim() !== "");
        const fleet = readFleet(filled(starterFleet([{ path, heading, sampleRows }])), "f");
        expect(fleet.exports.wear?.columns.environment ?? "").toBe(`Base ${base}`.trim());
        const recorded = rows.map(([word]) => word.trim()).filter((word) => word !== "");
        expect([...fleet.words.environments.keys()]).toEqual([...new Set(recorded)]);
      }),
      { numRuns: 40 },
    );
  });
});
