import { describe, expect, it } from "vitest";
import type { Decision } from "../../src/fleet/fleet.ts";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import type { EvidenceOutcome } from "../../src/interval/month-result.ts";
import { parseRevisit } from "../../src/interval/revisit.ts";
import type { RuleContext } from "../../src/interval/rule-context.ts";
import { decisionOutcome } from "../../src/interval/rules-decision.ts";
import { makeLife } from "../records/make-life.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText } from "../support/make-exports.ts";

const RULES = ["no heaping", "lines agree"];

describe("parseRevisit(revisit, rules)", () => {
  it.each([
    ["20 lives over 700 h", [{ kind: "lives over", lives: 20, hours: 700 }]],
    ["at least 40 lives over 3000 h", [{ kind: "lives over", lives: 40, hours: 3000 }]],
    ["12 more looks", [{ kind: "more looks", looks: 12, intervalH: null }]],
    ["12 more looks at 600 h", [{ kind: "more looks", looks: 12, intervalH: 600 }]],
    ["the review of September 2026", [{ kind: "day", from: dayOfText("2026-09-01") }]],
    ["2026-09", [{ kind: "day", from: dayOfText("2026-09-01") }]],
    ["not before 2026-09-15", [{ kind: "day", from: dayOfText("2026-09-15") }]],
    ["rule no heaping", [{ kind: "rule", rule: "no heaping" }]],
    ["a new gauge is bought", [{ kind: "a person judges", text: "a new gauge is bought" }]],
    ["20 more lives over 700 h", [{ kind: "a person judges", text: "20 more lives over 700 h" }]],
    ["Septober 2026", [{ kind: "a person judges", text: "Septober 2026" }]],
  ])("%s", (text, conditions) => {
    expect(parseRevisit(text, RULES)).toEqual(conditions);
  });

  it("takes several joined by and, each by itself", () => {
    const kinds = parseRevisit("20 lives over 700 h and the review of May 2026, board agrees", RULES).map(
      ({ kind }) => kind,
    );
    expect(kinds).toEqual(["lives over", "day", "a person judges"]);
  });
});

const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const asOf = dayOfText("2024-12-31");
const decidedOn = dayOfText("2024-06-30");

/** 19 lives last looked at over 700 h, five of those looks since the decision; one more life just at 700 h. */
const lives = [
  ...Array.from({ length: 19 }, (_, i) => {
    const last = i < 5 ? dayOfText("2024-09-01") : dayOfText("2024-03-01");
    return makeLife({
      component: i,
      readingHours: [300, 600, 900],
      lookDays: [last - 200, last - 100, last],
    });
  }),
  makeLife({ component: 19, readingHours: [350, 700], lookDays: [asOf - 400, asOf - 300] }),
];

function outcome(
  revisit: string | null,
  over: Partial<Decision> = {},
  rule = "failed" as EvidenceOutcome["outcome"],
) {
  const lastDecision: Decision = {
    task: fleet.tasks[0]!.task,
    environment: null,
    standard: null,
    intervalH: 400,
    on: decidedOn,
    outcome: "refused",
    reference: null,
    revisit,
    promisedShare: null,
    ...over,
  };
  // The rule looks at nothing else of the context.
  const context = { fleet, lives, asOf, lastDecision } as unknown as RuleContext;
  const other: EvidenceOutcome = {
    rule: "no heaping",
    asks: "?",
    found: "14 readings",
    needed: "none",
    outcome: rule,
    settle: rule === "failed" ? "a second reading" : null,
  };
  return decisionOutcome(context, [other]);
}

describe("decisionOutcome(context, others): each outcome of a decision", () => {
  it("passes after an approval and during a trial: what comes next is another question", () => {
    expect(outcome(null, { outcome: "approved" }).outcome).toBe("passed");
    expect(outcome(null, { outcome: "trial" }).outcome).toBe("passed");
  });

  it.each(["refused", "deferred"] as const)("fails while a proposal %s has no condition on record", (how) => {
    expect(outcome(null, { outcome: how })).toMatchObject({
      outcome: "failed",
      settle: "nothing is recorded of what it asks; ask the authority",
    });
  });

  it("counts lives looked at over the hours asked: 19 of 20, the one at 700 h is not over", () => {
    expect(outcome("20 lives over 700 h")).toMatchObject({
      outcome: "failed",
      found: "refused 400 h; 19 lives looked at over 700 h",
      needed: "20 lives looked at over 700 h",
      settle: "1 more lives looked at over 700 h, about 1 month at the present pace",
    });
    expect(outcome("19 lives over 700 h").outcome).toBe("passed");
  });

  it("counts looks since the decision, all or those about so many hours apart", () => {
    // Five lives were looked at at 600 h (24 May, before the decision's day: not counted) and at 900 h after it.
    expect(outcome("6 more looks").found).toContain("5 looks since 2024-06-30");
    expect(outcome("5 more looks").outcome).toBe("passed");
    expect(outcome("5 more looks at 300 h").outcome).toBe("passed");
    expect(outcome("5 more looks at 600 h")).toMatchObject({ outcome: "failed" });
  });

  it("waits for a month or a day", () => {
    expect(outcome("the review of January 2025").outcome).toBe("failed");
    expect(outcome("the review of December 2024").outcome).toBe("passed");
    expect(outcome("2024-12-31").outcome).toBe("passed");
  });

  it("waits for a named rule to pass, and says what would settle it", () => {
    expect(outcome("no heaping")).toMatchObject({ outcome: "failed", settle: "a second reading" });
    expect(outcome("no heaping", {}, "passed").outcome).toBe("passed");
    expect(outcome("no heaping", {}, "not applicable").outcome).toBe("failed");
  });

  it("leaves to a person what can't be checked by number", () => {
    expect(outcome("the new gauge is in use")).toMatchObject({
      outcome: "failed",
      settle: 'a person judges whether "the new gauge is in use" is met, and the decision is entered',
    });
  });

  it("needs all of several", () => {
    expect(outcome("19 lives over 700 h and 2025-01").outcome).toBe("failed");
    expect(outcome("19 lives over 700 h and 2024-12").outcome).toBe("passed");
  });
});
