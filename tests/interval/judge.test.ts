import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { groupEvidence } from "../../src/interval/evidence.ts";
import { type JudgeContext, judge } from "../../src/interval/judge.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "../records/make-life.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";

const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const [part] = fleet.parts;
const [task] = fleet.tasks;

/** 60 components on 15 aircraft, slow and alike, looked at every 300 h up to 1800 h; and an old one, at 0.44 mm of 0.50 mm. */
function livesWithAnOldOne(): Life[] {
  const random = seededRandom(3);
  const read = (component: number, rate: number, toHours: number) => {
    const readingHours = Array.from({ length: toHours / 300 }, (_, k) => 300 * (k + 1));
    return makeLife({
      component,
      aircraft: `A${component % 15}`,
      readingHours,
      readingWearMm: readingHours.map((hours) => 0.01 + (rate * hours) / 1000 + 0.004 * random.normal()),
      lowerHours: toHours,
    });
  };
  const others = Array.from({ length: 60 }, (_, component) =>
    read(component, 0.1 * Math.exp(0.1 * random.normal()), 1800),
  );
  return [...others, read(60, 0.103, 4200)];
}

const lives = livesWithAnOldOne();
const evidence = groupEvidence(
  lives[0]!.group,
  lives,
  part!,
  fleet.acceptable.detectionChance,
  fleet.acceptable.confidence,
);
const month: JudgeContext = {
  fleet,
  asOf: 20_000,
  serials: lives.map((_, component) => `S${component}`),
  rows: { read: 1000, rejected: 0, unassigned: 0 },
  alerts: [],
  failures: { failures: [], open: [], lacks: null },
  safeguardsMissing: [],
};
const ruleOf = (judged: ReturnType<typeof judge>, rule: string, atH: number) =>
  judged.rulesWith(atH, fleet.acceptable).find((one) => one.rule === rule)!;

describe("judge(task, evidence, month)", () => {
  it("asks of the oldest component whether it is good after the longer interval, not after the present one", () => {
    const judged = judge(task!, evidence, month);
    expect(judged.oldest).toMatchObject({ serial: "S60", hours: 4200 });
    // About 0.44 mm: 0.03 mm more in 330 h, and 0.07 mm more in 660 h.
    expect(ruleOf(judged, "oldest component", 300).outcome).toBe("passed");
    const longer = ruleOf(judged, "oldest component", 600);
    expect(longer.outcome).toBe("failed");
    expect(longer.found).toMatch(/^S60 at 4200 h: .* % after 600 h more$/);
  });

  it.each([
    ["no rates", [], "not applicable"],
    ["none where it flies", [{ environment: "elsewhere", open: false, why: null }], "failed"],
    ["not known", [{ environment: "temperate", open: null, why: "2026-01 had removals" }], "failed"],
    ["over", [{ environment: "temperate", open: true, why: "over" }], "failed"],
    ["under", [{ environment: "temperate", open: false, why: null }], "passed"],
    [
      "hours without a place only",
      [{ environment: "unassigned", open: true, why: "over" }],
      "not applicable",
    ],
  ])("lets an alert that is %s be %s", (_, alerts, outcome) => {
    const { environment } = lives[0]!.group;
    const own = alerts.map((alert) => ({
      ...alert,
      part: part!.part,
      environment: alert.environment === "temperate" ? environment : alert.environment,
    }));
    const judged = judge(task!, evidence, { ...month, alerts: own });
    expect(ruleOf(judged, "no open alert", 300).outcome).toBe(outcome);
  });
});

describe("oldestFitted(evidence, serials, spacingH, lines)", () => {
  it("says nothing of a component that only curves without a bound know", () => {
    const few = livesWithAnOldOne().slice(-8);
    const unread = few.map((life) => ({ ...life, readingHours: [], readingWearMm: [], readingDays: [] }));
    const thin = groupEvidence(
      unread[0]!.group,
      unread,
      part!,
      fleet.acceptable.detectionChance,
      fleet.acceptable.confidence,
    );
    const judged = judge(task!, thin, month);
    expect(judged.oldest).toBeNull();
    expect(ruleOf(judged, "oldest component", 300)).toMatchObject({
      outcome: "failed",
      found: "no component fitted, or nothing with a bound to say of it",
    });
  });
});
