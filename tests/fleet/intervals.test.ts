import { describe, expect, it } from "vitest";
import type { Fleet } from "../../src/fleet/fleet.ts";
import { contradictions, intervalGrid, intervalHistory, presentInterval } from "../../src/fleet/intervals.ts";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { dayFromIso } from "../../src/units.ts";
import { LEAST } from "./example.ts";

/** A fleet with one 600 h task "check", these exceptions and these decisions ("sandy 300 h 2023-05-01 approved REF"). */
function fleetWith(except: string[], decisions: string[], interval = "600 h"): Fleet {
  const scope = (name: string) =>
    name === "all"
      ? ""
      : name
          .split("+")
          .map((word) =>
            word === "plain" || word === "shielded" ? `standard: ${word}, ` : `environment: ${word}, `,
          )
          .join("");
  const exceptions = except.map((line) => {
    const [where, hours] = line.split(" ");
    return `{ ${scope(where!)}interval: ${hours} h }`;
  });
  const decided = decisions.map((line) => {
    const [where, hours, on, outcome, reference = "x"] = line.split(" ");
    return `  - { task: check, ${scope(where!)}interval: ${hours} h, on: ${on}, outcome: ${outcome}, reference: ${reference} }`;
  });
  const text = `${LEAST.replace("interval: 600 h }", `interval: ${interval}, reference: the programme, except: [ ${exceptions.join(", ")} ] }`)}
environments: { a: sandy, b: temperate }
standards: { S: shielded, P: plain }
${decided.length > 0 ? `decisions:\n${decided.join("\n")}` : ""}
`;
  return readFleet(text, "fleet.yaml");
}

const day = (iso: string) => dayFromIso(iso)!;
const on = (fleet: Fleet, environment: string, standard: string, iso: string) =>
  presentInterval(fleet, fleet.tasks[0]!, environment, standard, day(iso));

describe("presentInterval(fleet, task, environment, standard, on) without decisions", () => {
  const fleet = fleetWith(["plain 200", "sandy 300"], []);
  it("is the task's where no exception matches", () => {
    expect(on(fleet, "temperate", "shielded", "2026-01-01")).toEqual({
      intervalH: 600,
      source: "task",
      reference: "the programme",
      since: null,
    });
  });
  it("is the exception's where one matches, and the shortest where several do", () => {
    expect(on(fleet, "sandy", "shielded", "2026-01-01")).toMatchObject({
      intervalH: 300,
      source: "exception",
    });
    expect(on(fleet, "sandy", "plain", "2026-01-01")).toMatchObject({ intervalH: 200, source: "exception" });
  });
  it("is a longer exception's too: an exception is what is approved there", () => {
    expect(on(fleetWith(["shielded 900"], []), "temperate", "shielded", "2026-01-01").intervalH).toBe(900);
  });
  it("leaves unassigned groups to the task's interval", () => {
    expect(on(fleet, "unassigned", "unassigned", "2026-01-01").intervalH).toBe(600);
  });
});

describe("presentInterval: approved decisions are the interval's history", () => {
  const fleet = fleetWith(
    ["sandy 300"],
    ["sandy 400 2021-03-01 approved A", "sandy 300 2023-05-01 approved B", "sandy 350 2024-01-01 refused C"],
  );
  it("takes the latest approved decision on or before the day", () => {
    expect(on(fleet, "sandy", "plain", "2023-05-01")).toEqual({
      intervalH: 300,
      source: "decision",
      reference: "B",
      since: day("2023-05-01"),
    });
    expect(on(fleet, "sandy", "plain", "2023-04-30")).toMatchObject({ intervalH: 400, reference: "A" });
    expect(on(fleet, "sandy", "plain", "2026-01-01")).toMatchObject({ intervalH: 300, reference: "B" });
  });
  it("falls back on the whole task before the scope's first decision", () => {
    expect(on(fleet, "sandy", "plain", "2020-01-01")).toMatchObject({
      intervalH: 600,
      source: "task",
      since: null,
    });
  });
  it("leaves other groups alone", () => {
    expect(on(fleet, "temperate", "plain", "2022-01-01")).toMatchObject({ intervalH: 600, since: null });
  });
  it("says so where the whole task's interval before its first decision isn't recorded", () => {
    const changed = fleetWith([], ["all 600 2022-01-01 approved A"]);
    expect(on(changed, "sandy", "plain", "2021-12-31")).toMatchObject({
      intervalH: 600,
      source: "not recorded",
    });
    expect(on(changed, "sandy", "plain", "2022-01-01")).toMatchObject({
      source: "decision",
      since: day("2022-01-01"),
    });
  });
  it("counts a decision that confirms the interval as its authority, not as a change", () => {
    const confirmed = fleetWith(
      ["sandy 300"],
      ["sandy 300 2021-01-01 approved A", "sandy 300 2024-01-01 approved B"],
    );
    expect(on(confirmed, "sandy", "plain", "2025-01-01")).toMatchObject({
      since: day("2021-01-01"),
      reference: "B",
    });
  });
  it("goes back to the task's interval where an exception was lifted", () => {
    const lifted = fleetWith([], ["sandy 300 2020-01-01 approved A", "sandy 600 2024-01-01 approved B"]);
    expect(intervalHistory(lifted, lifted.tasks[0]!, "sandy", "plain").map((i) => i.intervalH)).toEqual([
      600, 300, 600,
    ]);
  });
  it("does not depend on the order of lines", () => {
    const turned = fleetWith(
      ["sandy 300"],
      ["sandy 300 2023-05-01 approved B", "sandy 400 2021-03-01 approved A"],
    );
    expect(intervalHistory(turned, turned.tasks[0]!, "sandy", "plain")).toEqual(
      intervalHistory(fleet, fleet.tasks[0]!, "sandy", "plain"),
    );
  });
});

describe("presentInterval: trials", () => {
  it("a trial that was approved later held from its first day", () => {
    const fleet = fleetWith(
      ["sandy 400"],
      ["sandy 300 2020-01-01 approved A", "sandy 400 2024-01-01 trial T", "sandy 400 2025-01-01 approved B"],
    );
    expect(on(fleet, "sandy", "plain", "2024-06-01")).toMatchObject({ intervalH: 400, reference: "T" });
    expect(on(fleet, "sandy", "plain", "2025-06-01")).toMatchObject({
      since: day("2024-01-01"),
      reference: "B",
    });
  });
  it("a refused trial goes back to what was there before it", () => {
    const fleet = fleetWith(
      ["sandy 300"],
      ["sandy 400 2024-01-01 trial T", "sandy 400 2025-01-01 refused R"],
    );
    const history = intervalHistory(fleet, fleet.tasks[0]!, "sandy", "plain");
    expect(history.map(({ intervalH, since }) => [intervalH, since])).toEqual([
      [300, null],
      [400, day("2024-01-01")],
      [300, day("2025-01-01")],
    ]);
  });
  it("a refused trial of a scope of its own leaves it to the wider scope again", () => {
    const fleet = fleetWith([], ["sandy 800 2024-01-01 trial T", "sandy 800 2025-01-01 refused R"]);
    const history = intervalHistory(fleet, fleet.tasks[0]!, "sandy", "plain");
    expect(history.map(({ intervalH }) => intervalH)).toEqual([600, 800, 600]);
  });
  it("a trial that nothing ended counts only if the line agrees with it", () => {
    const open = ["sandy 400 2024-01-01 trial T"];
    expect(on(fleetWith(["sandy 300"], open), "sandy", "plain", "2026-01-01").intervalH).toBe(300);
    const trialLine = fleetWith(["sandy 400"], ["sandy 300 2020-01-01 approved A", ...open]);
    expect(on(trialLine, "sandy", "plain", "2026-01-01")).toMatchObject({ intervalH: 400, reference: "T" });
    expect(on(trialLine, "sandy", "plain", "2023-01-01").intervalH).toBe(300);
  });
});

describe("contradictions(fleet)", () => {
  const refused = (except: string[], decisions: string[], interval = "600 h") =>
    expect(() => fleetWith(except, decisions, interval)).toThrow(/the \d+ h that is approved now/);
  it("finds a decision that no line bears out, or that a shorter line overrules", () => {
    refused([], ["sandy 300 2023-05-01 approved"]);
    refused([], ["all 500 2023-05-01 approved"]);
    refused(["sandy 300"], ["sandy+plain 400 2023-05-01 approved"]);
    refused(["sandy 300"], ["sandy 300 2020-01-01 approved", "sandy 350 2023-05-01 approved"]);
  });
  it("takes refused and deferred decisions, trials and earlier approvals as they are", () => {
    const fleet = fleetWith(
      ["sandy 300"],
      [
        "sandy 500 2019-01-01 approved",
        "sandy 300 2023-05-01 approved",
        "sandy 350 2024-01-01 deferred",
        "all 800 2025-01-01 refused",
      ],
    );
    expect(contradictions(fleet)).toEqual([]);
  });
});

describe("intervalGrid(fleet, presentH)", () => {
  const grid = (steps: string, presentH: number) =>
    intervalGrid(readFleet(`${LEAST}interval_steps: ${steps}\n`, "f"), presentH);
  it("steps from the present interval down to above zero and up to twice it", () => {
    expect(grid("{ step: 100 h }", 300)).toEqual([100, 200, 300, 400, 500, 600]);
    expect(grid("{ step: 100 h }", 250)).toEqual([50, 150, 250, 350, 450]);
    expect(grid("{ step: 50 h }", 600)).toHaveLength(24);
  });
  it("offers at least one longer interval, and as far as the largest change goes", () => {
    expect(grid("{ step: 50 h }", 30)).toEqual([30, 80]);
    expect(grid("{ step: 100 h, largest_change: 100% }", 200)).toEqual([100, 200, 300, 400]);
  });
  it("is the list with the present interval in it", () => {
    expect(grid("[600 h, 150 h]", 300)).toEqual([150, 300, 600]);
    expect(grid("[600 h, 300 h]", 300)).toEqual([300, 600]);
  });
});
