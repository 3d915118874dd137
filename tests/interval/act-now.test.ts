import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { actNow } from "../../src/interval/act-now.ts";
import { failureRecord } from "../../src/interval/failure-record.ts";
import { overdueContext } from "../../src/interval/overdue.ts";
import { buildLives } from "../../src/records/lives.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText, type ExportsInput, type LookInput, makeExports } from "../support/make-exports.ts";

const FLEET = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const asOf = dayOfText("2024-12-31");

/** Kinds and serials of the lines for a fleet with R 0.50 mm, U 0.80 mm, 300 h, 10 % tolerance, at the end of 2024. */
const lines = (input: ExportsInput, fleet = FLEET) => {
  const exports = makeExports(input);
  const { lives } = buildLives(exports, {
    asOf,
    parts: fleet.parts,
    airframeClock: false,
    presentIntervalH: () => 300,
  });
  return actNow({
    ...{ exports, fleet, asOf, lives },
    overdue: overdueContext(exports, fleet, asOf),
    failures: failureRecord(fleet, exports, lives, asOf),
  });
};
const kinds = (input: ExportsInput) => lines(input).map(({ kind, serial }) => `${serial}: ${kind}`);
const look = (on: string, hours: number, wear: LookInput["wear"]) => ({ serial: "S", on, hours, wear });

describe("actNow(context)", () => {
  it("says nothing of a component that is good and looked at", () => {
    expect(kinds({ looks: [look("2024-12-01", 300, 0.2)] })).toEqual([]);
  });

  it("names a fitted component whose last reading is at the replace-at limit, with place and source row", () => {
    const [line] = lines({ looks: [look("2024-06-01", 300, 0.5)] });
    expect(line).toMatchObject({
      kind: "fitted at or over replace-at limit",
      where: "A1, A",
      found: "wear 0.500 mm, still fitted by the records",
      source: "wear.csv:2",
    });
  });

  it("names one that is over in words", () => {
    expect(kinds({ looks: [look("2024-06-01", 300, "over limit")] })).toEqual([
      "S: fitted at or over replace-at limit",
    ]);
  });

  it("is quiet once it was removed, and speaks again when it was looked at after that", () => {
    const removals = [{ serial: "S", on: "2024-06-02", hours: 300, mode: "wear" }];
    expect(kinds({ looks: [look("2024-06-01", 300, 0.6)], removals })).toEqual([]);
    expect(kinds({ looks: [look("2024-06-01", 300, 0.6), look("2024-07-01", 330, 0.61)], removals })).toEqual(
      ["S: fitted at or over replace-at limit"],
    );
  });

  it("names a reading at the unsafe-at limit in the last month even if the component is off", () => {
    const removals = [{ serial: "S", on: "2024-12-20", hours: 300, mode: "wear" }];
    expect(kinds({ looks: [look("2024-12-20", 300, 0.8)], removals })).toEqual([
      "S: at or over unsafe-at limit",
    ]);
    expect(
      kinds({ looks: [look("2024-06-20", 300, 0.8)], removals: [{ ...removals[0]!, on: "2024-06-20" }] }),
    ).toEqual([]);
  });

  it("passes over a row that says nothing, and judges by the last that says something", () => {
    const over = [look("2024-06-01", 300, 0.62)];
    expect(kinds({ looks: [...over, look("2024-09-01", 400, "unknown")] })).toEqual([
      "S: fitted at or over replace-at limit",
    ]);
    expect(kinds({ looks: [...over, look("2024-09-01", 400, "below limit")] })).toEqual([]);
    // A look was made all the same: none is overdue, and it is fitted again after a removal.
    const fitted = [{ serial: "S", on: "2024-01-01", hours: 0, hoursNow: 650 }];
    expect(
      kinds({ looks: [look("2024-06-01", 300, 0.2), look("2024-09-01", 400, "unknown")], fitted }),
    ).toEqual([]);
    const removals = [{ serial: "S", on: "2024-07-01", hours: 300, mode: "wear" }];
    expect(kinds({ looks: [...over, look("2024-09-01", 400, "unknown")], removals })).toHaveLength(1);
  });

  it("reads rejected rows too, of one day the worst", () => {
    const looks = [look("2024-06-01", 300, 0.2)];
    const rejected = { looks: [look("2024-12-10", 450, 0.85), look("2024-12-10", 450, 0.87)] };
    expect(lines({ looks, rejected })).toMatchObject([
      {
        kind: "at or over unsafe-at limit",
        found: "wear 0.870 mm, still fitted by the records; the row was rejected: correct it",
        source: "wear.csv:3",
      },
    ]);
    // An old one counts until a later row says how it is.
    const old = { looks: [look("2024-08-10", 350, 0.55)] };
    expect(kinds({ looks, rejected: old })).toEqual(["S: fitted at or over replace-at limit"]);
    expect(kinds({ looks: [...looks, look("2024-09-01", 400, 0.3)], rejected: old })).toEqual([]);
  });

  it("names every failure since the last month: one before another removal, one that came late, one rejected", () => {
    const failure = { serial: "S", on: "2024-12-05", hours: 400, mode: "wear", found: "service" as const };
    const looks = [look("2024-01-01", 300, 0.2)];
    const again = { serial: "S", on: "2024-12-20", hours: 405, mode: "not a failure" };
    expect(kinds({ looks, removals: [failure, again] })).toEqual(["S: functional failure"]);
    expect(lines({ looks, rejected: { removals: [{ ...failure, hours: Number.NaN }] } })).toMatchObject([
      { found: "removed in service for WEAR; the row was rejected: correct it", source: "removals.csv:2" },
    ]);
    // No days of export: of the month before too, since it may have come late. With them: what is new.
    const november = { ...failure, on: "2024-11-28" };
    expect(kinds({ looks, removals: [november] })).toEqual(["S: functional failure"]);
    const dated = (exported: string, on = november.on) =>
      kinds({
        looks,
        removals: [
          { ...again, on: "2024-02-01", exported: "2024-02-28" },
          { ...november, on, exported },
        ],
      });
    expect(dated("2024-11-30")).toEqual([]);
    expect(dated("2024-12-31")).toEqual(["S: functional failure"]);
    expect(dated("2024-12-31", "2024-07-01")).toEqual(["S: functional failure"]);
  });

  it("names a failure in the group where it happened", () => {
    const failure = { serial: "S", on: "2024-12-05", hours: 400, mode: "wear", found: "service" as const };
    const flown = [{ month: "2024-12", environment: "sandy", hours: 30 }];
    for (const input of [{ removals: [failure] }, { rejected: { removals: [failure] } }])
      expect(lines({ flown, ...input })[0]!.group.environment).toBe("sandy");
  });

  it("names a functional failure of the last month, not an older or an unconfirmed one", () => {
    const failure = { serial: "S", hours: 400, mode: "wear", found: "service" as const };
    const looks = [look("2024-01-01", 300, 0.2)];
    expect(kinds({ looks, removals: [{ ...failure, on: "2024-12-10" }] })).toEqual(["S: functional failure"]);
    expect(kinds({ looks, removals: [{ ...failure, on: "2024-10-10" }] })).toEqual([]);
    expect(kinds({ looks, removals: [{ ...failure, on: "2024-12-10", finding: "no fault found" }] })).toEqual(
      [],
    );
  });

  it("names a fitted component that was never looked at, in the roster's group", () => {
    const fitted = (hoursNow: number) => [
      { serial: "N", on: "2024-01-01", hours: 0, hoursNow, environment: "sandy" },
    ];
    expect(kinds({ fitted: fitted(329) })).toEqual([]);
    const [line] = lines({ fitted: fitted(331) });
    expect(line).toMatchObject({
      kind: "look overdue",
      found: "331 h flown since it was fitted; no look on record",
      group: { environment: "sandy" },
    });
  });

  it("names a look overdue beyond its tolerance, by counted hours", () => {
    const fitted = (hoursNow: number) => [{ serial: "S", on: "2024-01-01", hours: 0, hoursNow }];
    const looks = [look("2024-06-01", 300, 0.2)];
    expect(kinds({ looks, fitted: fitted(630) })).toEqual([]);
    expect(kinds({ looks, fitted: fitted(631) })).toEqual(["S: look overdue"]);
  });

  it("counts a look before the fitting on the same clock, and from the fitting where the clock began again", () => {
    const looks = [look("2024-01-01", 300, 0.2)];
    expect(kinds({ looks, fitted: [{ serial: "S", on: "2024-03-01", hours: 350, hoursNow: 700 }] })).toEqual([
      "S: look overdue",
    ]);
    expect(kinds({ looks, fitted: [{ serial: "S", on: "2024-03-01", hours: 0, hoursNow: 200 }] })).toEqual(
      [],
    );
  });

  it("believes whichever counts more hours, the roster or the flying", () => {
    const looks = [look("2024-06-01", 300, 0.2)];
    const flown = ["2024-07", "2024-08", "2024-09", "2024-10"].map((month) => ({ month, hours: 90 }));
    const stale = { serial: "S", on: "2024-01-01", hours: 0, hoursNow: 320 };
    expect(lines({ looks, flown, fitted: [stale] })).toMatchObject([
      { kind: "look overdue", found: "360 h flown since the last look" },
    ]);
    expect(kinds({ looks, flown: flown.slice(1), fitted: [stale] })).toEqual([]);
    expect(kinds({ looks, flown: flown.slice(1), fitted: [{ ...stale, hoursNow: 640 }] })).toEqual([
      "S: look overdue",
    ]);
    // One never looked at, on the roster without its hours now.
    const fitted = [{ serial: "N", on: "2024-06-01", hours: 0 }];
    expect(lines({ fitted, flown })).toMatchObject([
      { kind: "look overdue", found: "360 h flown since it was fitted; no look on record" },
    ]);
  });

  it("takes the shorter interval where a component went to another environment since its last look", () => {
    const sandy = "tolerance: 10%\n    except: [{ environment: sandy, interval: 150 h }]";
    const settings = readFleet(SMALL_FLEET_YAML.replace("tolerance: 10%", sandy), "fleet.yaml");
    const looks = [look("2024-03-01", 600, 0.2)];
    const base = { serial: "S", on: "2024-03-05", hours: 600, aircraft: "A2" };
    const moved = (hoursNow: number, environment: string) =>
      lines({ looks, fitted: [{ ...base, hoursNow, environment }] }, settings);
    expect(moved(765, "sandy")).toEqual([]);
    expect(moved(766, "temperate")).toEqual([]);
    expect(moved(766, "sandy")).toMatchObject([
      { limit: "grip bearing wear check every 150 h, at most 165 h with its tolerance" },
    ]);
    expect(moved(766, "sandy")[0]!.group.environment).toBe("sandy");
    // The aircraft itself went there.
    const flown = ["2024-04", "2024-05"].map((month) => ({ month, environment: "sandy", hours: 83 }));
    expect(lines({ looks, flown }, settings)).toHaveLength(1);
    expect(lines({ looks, flown: flown.slice(1) }, settings)).toEqual([]);
  });

  it("puts the gravest first", () => {
    const input: ExportsInput = {
      looks: [
        { serial: "A", on: "2024-06-01", hours: 300, wear: 0.55 },
        { serial: "B", on: "2024-12-01", hours: 300, wear: 0.85 },
      ],
    };
    expect(kinds(input)).toEqual(["B: at or over unsafe-at limit", "A: fitted at or over replace-at limit"]);
  });
});
