import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { actNow } from "../../src/interval/act-now.ts";
import { failureRecord } from "../../src/interval/failure-record.ts";
import { goBackWatch, livesUntil, predictedSince } from "../../src/interval/go-back-watch.ts";
import { overdueContext } from "../../src/interval/overdue.ts";
import { buildLives } from "../../src/records/lives.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";

const approved = (more = "") => `${SMALL_FLEET_YAML}
decisions:
  - { task: grip bearing wear check, interval: 200 h, on: 2022-01-01, outcome: approved }
  - { task: grip bearing wear check, interval: 300 h, on: 2024-01-01, outcome: approved${more} }
`;
const asOf = dayOfText("2024-12-31");
const GROUP = { part: "grip bearing", environment: "temperate", standard: "plain" };

/** Components that are looked at once after the change at 300 h; the first `over` of them are over the limit. */
function world(fleetText: string, looks: number, over: number) {
  const fleet = readFleet(fleetText, "fleet.yaml");
  const exports = makeExports({
    looks: Array.from({ length: looks }, (_, i) => [
      // Looked at when fitted, so that every life is followed from there.
      { serial: `S${i}`, on: "2024-01-10", hours: 0, wear: 0, aircraft: `A${i}` },
      {
        serial: `S${i}`,
        on: `2024-06-${String(1 + (i % 28)).padStart(2, "0")}`,
        hours: 300,
        wear: i < over ? 0.55 : 0.2,
        aircraft: `A${i}`,
      },
    ]).flat(),
    removals: Array.from({ length: over }, (_, i) => ({
      serial: `S${i}`,
      on: "2024-06-30",
      hours: 300,
      mode: "wear",
    })),
  });
  const { lives } = buildLives(exports, {
    asOf,
    parts: fleet.parts,
    airframeClock: false,
    presentIntervalH: () => 300,
  });
  const alarms = actNow({
    ...{ exports, fleet, asOf, lives },
    overdue: overdueContext(exports, fleet, asOf),
    failures: failureRecord(fleet, exports, lives, asOf),
  });
  return { lives, alarms, watch: goBackWatch(fleet, fleet.tasks[0]!, GROUP, lives, asOf) };
}

describe("goBackWatch(fleet, task, group, lives, asOf)", () => {
  it("watches an approved extension against the share its decision was promised: 5 of 60 at 3 % is under 6", () => {
    const { watch, alarms } = world(approved(", promised: 3%"), 59, 5);
    expect(watch).toMatchObject({
      looks: 59,
      finds: 5,
      formerH: 200,
      promisedBy: "decision",
      reachedAt: null,
    });
    expect(alarms.filter(({ kind }) => kind === "go-back number reached")).toEqual([]);
  });

  it("acts now at the sixth, naming count, number, former interval, false-alarm chance and the row", () => {
    const { alarms } = world(approved(", promised: 3%"), 59, 6);
    const [line, ...others] = alarms.filter(({ kind }) => kind === "go-back number reached");
    expect(others).toEqual([]);
    expect(line).toMatchObject({
      serial: "S5",
      source: "wear.csv:13",
      found: "6 over-limit finds in 59 looks at 300 h since 2024-01-01; this one reached the number",
      limit:
        "grip bearing wear check: go back to 200 h at 6 finds in the first 60 looks " +
        "(by chance at most 2.5 % of the time if 3 % of looks find one)",
    });
  });

  it("takes the acceptable share where the decision promises none: 12 of the first 60", () => {
    expect(world(approved(), 59, 11).watch).toMatchObject({ promisedBy: "acceptable", reachedAt: null });
    // In order of day: before the twelfth find, on 12 June, came 25 looks (11 days of two, and three third ones).
    expect(world(approved(), 59, 12).watch).toMatchObject({ stage: { finds: 12 }, reachedAt: 25 });
  });

  it("watches nothing where the interval was shortened or no decision changed it", () => {
    const shortened = approved().replace("interval: 200 h", "interval: 400 h");
    expect(world(shortened, 59, 20).watch).toBeNull();
    expect(world(SMALL_FLEET_YAML, 59, 20).watch).toBeNull();
  });
});

describe("predictedSince(watch, lives)", () => {
  it("says why where the lives before the change hold too few events", () => {
    const { watch, lives } = world(approved(), 10, 0);
    expect(predictedSince(watch!, lives)).toMatchObject({ kind: "none" });
  });
});

describe("livesUntil(lives, day)", () => {
  it("cuts what came later off at the last good look, and leaves out lives not yet seen", () => {
    const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
    const exports = makeExports({
      looks: [
        { serial: "S", on: "2023-01-01", hours: 300, wear: 0.2 },
        { serial: "S", on: "2024-06-01", hours: 600, wear: 0.55 },
        { serial: "T", on: "2024-06-01", hours: 300, wear: 0.2 },
      ],
    });
    const { lives } = buildLives(exports, {
      asOf,
      parts: fleet.parts,
      airframeClock: false,
      presentIntervalH: () => 300,
    });
    expect(lives.map(({ upperHours }) => upperHours)).toEqual([600, Number.POSITIVE_INFINITY]);
    expect(livesUntil(lives, dayOfText("2024-01-01"))).toMatchObject([
      { lowerHours: 300, upperHours: Number.POSITIVE_INFINITY, lookHours: [300] },
    ]);
    expect(livesUntil(lives, dayOfText("2024-06-02"))).toEqual(lives);
  });
});
