/** Tables of lives and sums in place of the wear export: what is taken, and what is refused with its place. */
import { tableFromArrays, tableToIPC } from "@uwdata/flechette";
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { readExports } from "../../src/ingest/read-exports.ts";
import { readLifeTables } from "../../src/ingest/read-life-tables.ts";
import type { ExportSource } from "../../src/ingest/source.ts";
import { LOOK } from "../../src/records/exports.ts";
import { dayFromIso } from "../../src/units.ts";
import { groupSums } from "../../src/wear/component-sums.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";

const FLEET = readFleet(
  SMALL_FLEET_YAML.replace(
    / {2}wear:[\s\S]*?(?=\nenvironments)/,
    "  lives: { files: lives.csv }\n  sums: { files: sums.csv }",
  ),
  "fleet.yaml",
);

const SUMS = {
  part: "grip bearing",
  serial: "0012",
  life: "1",
  piece: "1",
  readings: "3",
  mean_hours: "600.0",
  mean_wear_mm: "0.3",
  hours_squared: "180000.0",
  hours_wear: "60.0",
  wear_squared: "0.02",
  last_hours: "900.0",
  last_day: "2026-03-01",
  last_wear_mm: "0.4",
  highest_wear_mm: "0.41",
};
const LIFE = {
  part: "grip bearing",
  serial: "0012",
  life: "1",
  piece: "1",
  environment: "sandy",
  standard: "plain",
  entry_hours: "0.0",
  lower_hours: "900.0",
  upper_hours: "",
  end: "still fitted",
  late_entry: "false",
  observed_from_hours: "0.0",
  last_hours: "900.0",
  environment_from: "flying",
  aircraft: "SH-101",
  position: "A",
  first_day: "2025-03-01",
  last_day: "2026-03-01",
  event_day: "",
  removed_day: "",
  removal_mode: "",
  removed_in_service: "",
  no_fault_found: "",
  functional_failure_hours: "",
  look_hours: "300.0 600.0 900.0",
  look_days: "2025-03-01 2025-09-01 2026-03-01",
  looks_with_number: "3",
  last_look_day: "2026-03-01",
  last_look_hours: "900.0",
  last_look_over: "false",
  as_of: "2026-03-31",
};
type Cells = Readonly<Record<string, string>>;

const csv = (rows: readonly Cells[]): string =>
  [Object.keys(rows[0]!).join(","), ...rows.map((row) => Object.values(row).join(","))].join("\n");

const sourceOf = (files: Readonly<Record<string, string | Uint8Array>>): ExportSource => ({
  list: async (patterns) => patterns,
  async *open(path) {
    const content = files[path]!;
    yield typeof content === "string" ? Buffer.from(content) : content;
  },
});

async function readOf(lives: string | Uint8Array, sums: string | Uint8Array) {
  const source = sourceOf({ "lives.csv": lives, "sums.csv": sums });
  const { tables } = FLEET;
  if (tables === undefined) throw new Error("the fleet file names no tables");
  return readLifeTables({ ...FLEET, tables }, source, await readExports(FLEET, source, () => {}));
}
const readRows = (lives: readonly Cells[], sums: readonly Cells[]) => readOf(csv(lives), csv(sums));

describe("readLifeTables(fleet, source, read)", () => {
  it("takes lives with the sums of their readings, and the last look of each component as its wear row", async () => {
    const { lives, asOf, exports } = await readRows([LIFE], [SUMS]);
    expect(asOf).toBe(dayFromIso("2026-03-31"));
    expect(lives).toHaveLength(1);
    expect(lives[0]).toMatchObject({
      component: 0,
      group: { part: "grip bearing", environment: "sandy", standard: "plain" },
      lowerHours: 900,
      upperHours: Number.POSITIVE_INFINITY,
      lookHours: [300, 600, 900],
      readingHours: [],
      summed: { count: 3, hoursWear: 60, highestWearMm: 0.41, looksWithNumber: 3 },
      rows: [{ kind: "lives", file: 0, line: 2 }],
    });
    expect(exports.components).toMatchObject({ count: 1, serial: ["0012"] });
    expect(exports.wear).toMatchObject({ rows: 1 });
    expect([exports.wear!.wearMm[0], exports.wear!.look[0]]).toEqual([0.4, LOOK.number]);
    expect(exports.files.map(({ kind, lines, read }) => [kind, lines, read])).toEqual([
      ["lives", 2, 1],
      ["sums", 2, 1],
    ]);
  });

  it("gives the wear models the sums as they are", async () => {
    const { lives } = await readRows([LIFE], [SUMS]);
    const table = {
      rows: 0,
      components: 1,
      component: new Int32Array(),
      hours: new Float64Array(),
      wearMm: new Float64Array(),
    };
    const sums = groupSums({ table, lives });
    expect([sums.components, sums.readings, sums.hoursSquared[0]]).toEqual([1, 3, 180000]);
  });

  it("keeps a last look in words as words", async () => {
    const words = { ...LIFE, last_look_day: "2026-03-20", last_look_hours: "950.0", last_look_over: "true" };
    const { exports } = await readRows([words], [SUMS]);
    expect([exports.wear!.wearMm[0], exports.wear!.look[0]]).toEqual([Number.NaN, LOOK.overLimit]);
  });

  it("reads the same from Arrow, with numbers, days, truth values and lists as such", async () => {
    const noDay: (Date | null)[] = [null];
    const arrow = (columns: Record<string, unknown[]>) =>
      tableToIPC(tableFromArrays(columns as never), { format: "file" })!;
    const textColumns = (row: Cells) =>
      Object.fromEntries(Object.entries(row).map(([name, value]) => [name, [value]]));
    const lives = arrow({
      ...textColumns(LIFE),
      entry_hours: [0],
      lower_hours: [900],
      upper_hours: ["", null].slice(1),
      late_entry: [false],
      as_of: [new Date("2026-03-31T00:00:00Z")],
      event_day: noDay.map(() => ""),
      look_hours: [[300, 600, 900]],
      last_look_over: [false],
      life: [1],
    });
    const fromArrow = await readOf(lives, csv([SUMS]));
    const fromCsv = await readRows([LIFE], [SUMS]);
    expect(fromArrow.asOf).toBe(fromCsv.asOf);
    expect(fromArrow.lives).toEqual([{ ...fromCsv.lives[0], rows: [{ kind: "lives", file: 0, line: 1 }] }]);
  });

  it.each<[string, Cells, string]>([
    [
      "a part that the fleet file doesn't know",
      { part: "link bearing" },
      "lives.csv:2 part: expected one of grip bearing, got",
    ],
    ["an environment of no name", { environment: "arctic" }, "lives.csv:2 environment: expected one of"],
    [
      "a number with a decimal comma",
      { last_hours: '"900,0"' },
      "lives.csv:2 last_hours: expected a number with a decimal",
    ],
    [
      "hours that end before they begin",
      { entry_hours: "950.0" },
      "lives.csv:2 lower_hours: expected hours from the entry, 950",
    ],
    [
      "an event without hours",
      { end: "over limit found" },
      'upper_hours: expected hours, where the end is "over limit found"',
    ],
    [
      "an event where there is none",
      { upper_hours: "950.0" },
      'upper_hours: expected nothing, where the end is "still fitted"',
    ],
    [
      "looks without days",
      { look_days: "2025-03-01" },
      "look_hours: expected hours of the 1 looks in look_days",
    ],
    ["a day in another order", { first_day: "01.03.2025" }, "first_day: expected a day as YYYY-MM-DD"],
    ["no serial", { serial: "" }, "lives.csv:2 serial: expected a serial, got an empty cell"],
  ])("refuses %s, with its place (E-TABLE, exit 3)", async (_, change, message) => {
    const reading = readRows(
      [{ ...LIFE, ...change }],
      [{ ...SUMS, ...("part" in change || "serial" in change ? {} : {}) }],
    );
    await expect(reading).rejects.toMatchObject({ code: "E-TABLE", exitCode: 3 });
    await expect(reading).rejects.toThrow(message);
  });

  it("refuses a piece that stands twice, sums of no life, and tables of two days", async () => {
    await expect(readRows([LIFE, LIFE], [SUMS])).rejects.toThrow(
      "lives.csv:3: expected each piece of a life once",
    );
    await expect(readRows([LIFE], [SUMS, { ...SUMS, piece: "2" }])).rejects.toThrow(
      "piece 2, which is no piece of the lives",
    );
    await expect(readRows([LIFE, { ...LIFE, piece: "2", as_of: "2026-04-30" }], [SUMS])).rejects.toThrow(
      "lives.csv:3 as_of: expected 2026-03-31, as in the rows before",
    );
  });

  it("refuses a table without its columns, with rows of another width, or of nothing", async () => {
    const { as_of: _, ...without } = LIFE;
    await expect(readRows([without], [SUMS])).rejects.toThrow(
      "lives.csv: expected the columns as_of, got part,",
    );
    await expect(readOf(`${csv([LIFE])},more`, csv([SUMS]))).rejects.toThrow(
      "lives.csv:2: expected 31 cells, got 32",
    );
    await expect(readOf("", csv([SUMS]))).rejects.toThrow("an empty file");
    await expect(readOf(csv([LIFE]).split("\n")[0]!, csv([SUMS]))).rejects.toThrow(
      "expected at least one life",
    );
    await expect(readOf(csv([LIFE]).replace("SH-101", '"SH\n101"'), csv([SUMS]))).rejects.toThrow(
      "one row a line",
    );
  });
});

describe("a fleet file with tables", () => {
  const yaml = (exports: string) => SMALL_FLEET_YAML.replace(/ {2}wear:[\s\S]*?(?=\nenvironments)/, exports);
  it("needs both, and no wear export beside them", () => {
    expect(() => readFleet(yaml("  lives: { files: lives.csv }"), "fleet.yaml")).toThrow(/expected sums too/);
    expect(() => readFleet(yaml("  sums: { files: sums.csv }"), "fleet.yaml")).toThrow(/expected lives too/);
    const beside = SMALL_FLEET_YAML.replace(
      "exports:\n",
      "exports:\n  lives: { files: l.csv }\n  sums: { files: s.csv }\n",
    );
    expect(() => readFleet(beside, "fleet.yaml")).toThrow(/no wear export beside lives and sums/);
  });
});
