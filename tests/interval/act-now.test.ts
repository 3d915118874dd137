import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { actNow } from "../../src/interval/act-now.ts";
import { overdueContext } from "../../src/interval/overdue.ts";
import { buildLives } from "../../src/records/lives.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText, type ExportsInput, makeExports } from "../support/make-exports.ts";

const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const asOf = dayOfText("2024-12-31");

/** Kinds and serials of the lines for a fleet with R 0.50 mm, U 0.80 mm, 300 h, 10 % tolerance, at the end of 2024. */
const lines = (input: ExportsInput) => {
  const exports = makeExports(input);
  const { lives } = buildLives(exports, {
    asOf,
    parts: fleet.parts,
    airframeClock: false,
    presentIntervalH: () => 300,
  });
  return actNow({ exports, fleet, asOf, lives, overdue: overdueContext(exports, fleet, asOf) });
};
const kinds = (input: ExportsInput) => lines(input).map(({ kind, serial }) => `${serial}: ${kind}`);
const look = (on: string, hours: number, wear: number | "over limit") => ({ serial: "S", on, hours, wear });

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
