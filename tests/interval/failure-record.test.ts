import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { failureRecord, failuresIn } from "../../src/interval/failure-record.ts";
import { FOUND_AT, NO_DAY, type ReadExports, type RemovalRows } from "../../src/records/exports.ts";
import { buildLives } from "../../src/records/lives.ts";
import { UNASSIGNED } from "../../src/records/words.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText, makeExports, type RemovalInput } from "../support/make-exports.ts";

const asOf = dayOfText("2024-12-31");
const REMOVALS = `  removals:
    files: removals.csv
    clock: since new
    columns: { component: Serial, date: Removed, hours: Hours, cause: Cause, found: Found }
environments:`;
const fleet = readFleet(SMALL_FLEET_YAML.replace("environments:", REMOVALS), "fleet.yaml");
const temperate = { part: "grip bearing", environment: "temperate", standard: "plain" };
const sandy = { ...temperate, environment: "sandy" };

const looks = [
  { serial: "S", on: "2024-01-01", hours: 300, wear: 0.1 },
  { serial: "S", on: "2024-08-01", hours: 600, wear: 0.2 },
  { serial: "D", on: "2024-08-01", hours: 600, wear: 0.2, environment: "sandy" },
];
const failed: RemovalInput = { serial: "S", on: "2024-10-01", hours: 700, mode: "wear", found: "service" };

/** Failures of the temperate and of the sandy group, and how many removals are open in each. */
function recorded(exports: ReadExports, settings = fleet) {
  const { lives } = buildLives(exports, {
    asOf,
    parts: fleet.parts,
    airframeClock: false,
    presentIntervalH: () => 300,
  });
  const record = failureRecord(settings, exports, lives, asOf);
  return [temperate, sandy].map((key) => {
    const { inLast24Months, failures, open, lacks } = failuresIn(record, key, asOf);
    return { failures, inLast24Months, open: open.map(({ source, why }) => `${source} ${why}`), lacks };
  });
}
const inTemperate = (removals: readonly RemovalInput[]) => recorded(makeExports({ looks, removals }))[0]!;
const none = { failures: 0, inLast24Months: 0, open: [], lacks: null };

/** Exports with removal rows that no life is made from. */
function withAside(aside: readonly RemovalInput[], change: (rows: RemovalRows) => void = () => {}) {
  const { removals } = makeExports({ looks, removals: aside });
  change(removals!);
  const exports = makeExports({ looks });
  return { ...exports, setAside: { ...exports.setAside, removals } };
}

describe("failureRecord(fleet, exports, lives, asOf), failuresIn(record, group, asOf)", () => {
  it("counts a confirmed failure in the group of the life that it ended, in the last 24 months and ever", () => {
    const exports = makeExports({ looks, removals: [failed] });
    expect(recorded(exports)).toEqual([{ ...none, failures: 1, inLast24Months: 1 }, none]);
    const old = [{ ...failed, on: "2022-10-01", hours: 100 }];
    expect(inTemperate(old)).toMatchObject({ failures: 1, inLast24Months: 0 });
  });

  it("counts it whatever became of the life: twice off at the same hours, or back after a removal for wear", () => {
    const swapped: RemovalInput = { ...failed, on: "2024-09-01", mode: "not a failure", found: "inspection" };
    expect(inTemperate([swapped, failed]).failures).toBe(1);
    const repaired: RemovalInput = { ...failed, on: "2024-02-01", hours: 310, found: "inspection" };
    expect(inTemperate([repaired, failed]).failures).toBe(1);
  });

  it("has nothing against a removal whose readable words show that it was no failure by wear", () => {
    const harmless: RemovalInput[] = [
      { ...failed, found: "inspection" },
      { ...failed, on: "2024-10-02", mode: "not a failure" },
      { ...failed, on: "2024-10-03", finding: "no fault found" },
    ];
    expect(inTemperate(harmless)).toEqual(none);
  });

  it("leaves open what has no known place where it came to light, or no known cause, where it may matter", () => {
    const { found: _, ...unsaid } = failed;
    expect(inTemperate([unsaid])).toMatchObject({
      open: [
        "removals.csv:2 where it came to light is not recorded, or in a word that is not in the fleet file",
      ],
    });
    const cause = { ...failed, mode: UNASSIGNED };
    expect(inTemperate([cause]).open).toEqual([
      "removals.csv:2 its cause, UNASSIGNED, is not in the fleet file",
    ]);
    // The other group, and what lies back further, are not concerned.
    expect(recorded(makeExports({ looks, removals: [unsaid] }))[1]).toEqual(none);
    expect(inTemperate([{ ...unsaid, on: "2022-10-01", hours: 100 }])).toEqual(none);
  });

  it("leaves open a rejected row by what can be read of it", () => {
    expect(recorded(withAside([failed]))).toEqual([
      { ...none, open: ["removals.csv:2 the row was rejected"] },
      none,
    ]);
    const scheduled: RemovalInput = { ...failed, mode: "not a failure" };
    expect(recorded(withAside([scheduled]))).toEqual([none, none]);
    const undated = (rows: RemovalRows) => rows.day.fill(NO_DAY);
    expect(recorded(withAside([failed], undated))[0]!.open).toHaveLength(1);
    // Exported before the 24 months began, so that it can't be dated in them.
    const longAgo = (rows: RemovalRows) => {
      rows.day.fill(NO_DAY);
      rows.exported.fill(dayOfText("2022-12-01"));
    };
    expect(recorded(withAside([failed], longAgo))[0]).toEqual(none);
    const found = (rows: RemovalRows) => rows.found.fill(FOUND_AT.inspection);
    expect(recorded(withAside([failed], found))[0]).toEqual(none);
  });

  it("leaves a row of no known part or place, and a line that can't be read, open in every group", () => {
    const nowhere = (rows: RemovalRows) => {
      rows.component.fill(-1);
      rows.environment.codes.fill(-1);
    };
    for (const { open } of recorded(withAside([failed], nowhere)))
      expect(open).toEqual(["removals.csv:2 its part number or serial is missing or not in the fleet file"]);
    const exports = makeExports({ looks });
    const unread = (exported: number) => ({
      ...exports,
      setAside: { ...exports.setAside, unreadRemovals: [{ file: 1, line: 9, exported }] },
    });
    for (const { open } of recorded(unread(asOf)))
      expect(open).toEqual(["removals.csv:9 the line can't be read"]);
    expect(recorded(unread(dayOfText("2021-01-31")))[0]!.open).toEqual([]);
  });

  it("says what the exports lack, so that no failure could be seen", () => {
    const exports = makeExports({ looks });
    const without = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
    expect(recorded(exports, without)[0]!.lacks).toBe("no removals are exported");
    const unsaid = readFleet(
      SMALL_FLEET_YAML.replace("environments:", REMOVALS.replace(", found: Found", "")),
      "fleet.yaml",
    );
    expect(recorded(exports, unsaid)[0]!.lacks).toContain(
      "no column that says where a removal came to light",
    );
    // Tables of lives say how each life ended.
    const tables = { lives: ["lives.csv"], sums: ["sums.csv"] };
    expect(recorded(exports, { ...without, tables })[0]!.lacks).toBeNull();
  });
});
