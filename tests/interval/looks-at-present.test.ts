import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { actNow } from "../../src/interval/act-now.ts";
import { failureRecord } from "../../src/interval/failure-record.ts";
import { goBackWatch } from "../../src/interval/go-back-watch.ts";
import { looksAtInterval } from "../../src/interval/looks-at-present.ts";
import { overdueContext } from "../../src/interval/overdue.ts";
import { buildLives } from "../../src/records/lives.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText, type LookInput, makeExports, type RemovalInput } from "../support/make-exports.ts";

const INTERVAL_H = 450;
const AS_OF = dayOfText("2024-12-31");
const look = (on: string, hours: number, wear: LookInput["wear"], more: Partial<LookInput> = {}) => ({
  serial: "S",
  on,
  hours,
  wear,
  ...more,
});
const off = (on: string, hours: number, more: Partial<RemovalInput> = {}): RemovalInput => ({
  serial: "S",
  on,
  hours,
  mode: "wear",
  found: "inspection",
  ...more,
});

/** Limit 0.50 mm; a life looked at good at 300 h on 2021-12-01, and what came after. */
function count(
  looks: readonly LookInput[],
  removals: readonly RemovalInput[] = [],
  environment = "temperate",
) {
  const { lives } = buildLives(makeExports({ looks: [look("2021-12-01", 300, 0.2), ...looks], removals }), {
    asOf: AS_OF,
    parts: [{ part: "grip bearing", replaceAtMm: 0.5 }],
    airframeClock: false,
    presentIntervalH: () => INTERVAL_H,
  });
  const own = lives.filter(({ group }) => group.environment === environment);
  return looksAtInterval(own, INTERVAL_H, dayOfText("2022-01-01"), 0.15).map(
    ({ beforeHours, hours, overLimit }) => [beforeHours, hours, overLimit],
  );
}

describe("looksAtInterval(lives, intervalH, since, band)", () => {
  it("counts a look by the hours since the one before, and a number over the limit as a find", () => {
    expect(count([look("2023-03-01", 750, 0.55)])).toEqual([[300, 750, true]]);
    expect(count([look("2023-03-01", 750, 0.3)])).toEqual([[300, 750, false]]);
    expect(count([look("2022-09-01", 600, 0.3)])).toEqual([]);
  });

  it("counts a removal as worn at the look, without a number, as a find", () => {
    expect(count([], [off("2023-03-01", 750)])).toEqual([[300, 750, true]]);
    expect(count([look("2023-03-01", 750, "below limit")], [off("2023-03-01", 750)])).toEqual([
      [300, 750, true],
    ]);
  });

  it("counts a failure in service, worn, at the look that would have been due", () => {
    const failed = { found: "service", finding: "confirmed" } as const;
    expect(count([], [off("2023-02-01", 720, failed)])).toEqual([[300, 720, true]]);
    expect(count([], [off("2022-04-01", 400, failed)])).toEqual([[300, 750, true]]);
    // Long after the look was due it says nothing of this interval.
    expect(count([], [off("2023-10-01", 900, failed)])).toEqual([]);
    // A good look, and failed 20 h after it: two looks, one find.
    expect(count([look("2023-03-01", 750, 0.3)], [off("2023-03-20", 770, failed)])).toEqual([
      [300, 750, false],
      [750, 1200, true],
    ]);
  });

  it("counts an early removal where it was taken off about when its look was due", () => {
    const near = [look("2022-12-01", 650, 0.45)];
    expect(count([look("2023-03-01", 750, 0.45)], [off("2023-03-01", 750)])).toEqual([[300, 750, true]]);
    expect(count(near, [off("2023-01-01", 700, { mode: "not a failure" })])).toEqual([]);
  });

  it("takes a look repeated soon after as one look, the worse of them", () => {
    const again = (wear: number) => [look("2023-03-01", 750, 0.49), look("2023-03-02", 751, wear)];
    expect(count(again(0.52))).toEqual([[300, 751, true]]);
    expect(count(again(0.48))).toEqual([[300, 751, false]]);
    // The next look is that long after the last of them.
    expect(count([...again(0.4), look("2024-06-01", 1200, 0.45)])).toEqual([
      [300, 751, false],
      [751, 1200, false],
    ]);
  });

  it("counts the first look after a move from the last look before it", () => {
    const moved = [look("2023-03-01", 750, 0.55, { environment: "sandy" })];
    expect(count(moved, [], "sandy")).toEqual([[300, 750, true]]);
  });
});

describe("goBackWatch(fleet, task, group, lives, asOf)", () => {
  it("reaches its number by failures in service and unread removals, and names the removal's row", () => {
    const fleet = readFleet(
      `${SMALL_FLEET_YAML.replace("interval: 300 h", "interval: 450 h")}
decisions:
  - { task: grip bearing wear check, interval: 300 h, on: 2015-01-01, outcome: approved }
  - { task: grip bearing wear check, interval: 450 h, on: 2022-01-01, outcome: approved }
`,
      "fleet.yaml",
    );
    const serials = Array.from({ length: 40 }, (_, i) => `S${i}`);
    const exports = makeExports({
      looks: serials.map((serial) => look("2021-12-01", 300, 0.2, { serial })),
      removals: serials.map((serial, i) =>
        off("2023-02-01", 720, { serial, found: i % 2 === 0 ? "service" : "inspection" }),
      ),
    });
    const { lives } = buildLives(exports, {
      asOf: AS_OF,
      parts: fleet.parts,
      airframeClock: false,
      presentIntervalH: () => INTERVAL_H,
    });
    const group = { part: "grip bearing", environment: "temperate", standard: "plain" };
    const watch = goBackWatch(fleet, fleet.tasks[0]!, group, lives, AS_OF)!;
    expect([watch.finds, watch.looks, watch.reachedAt]).toEqual([40, 40, 11]);
    const lines = actNow({
      ...{ exports, fleet, asOf: AS_OF, lives },
      overdue: overdueContext(exports, fleet, AS_OF),
      failures: failureRecord(fleet, exports, lives, AS_OF),
    });
    const [line] = lines.filter(({ kind }) => kind === "go-back number reached");
    expect(line!.source).toBe("removals.csv:13");
  });
});
