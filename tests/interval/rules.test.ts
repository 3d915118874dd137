import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import type { RuleContext } from "../../src/interval/rule-context.ts";
import { allPassed, EVIDENCE_RULES, evaluateRules } from "../../src/interval/rules.ts";
import type { Life } from "../../src/records/life.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText } from "../support/make-exports.ts";

const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const task = fleet.tasks[0]!;
const asOf = dayOfText("2024-12-31");
const good = { passed: true, found: "as it should be" };

/** 100 lives of 10 aircraft, looked at every 300 h to 1500 h, some read beyond 0.7 of the limit. */
const lives = Array.from({ length: 100 }, (_, i): Life => {
  const hours = [300, 600, 900, 1200, 1500];
  return {
    component: i,
    group: { part: "grip bearing", environment: "temperate", standard: "plain" },
    life: 1,
    piece: 1,
    entryHours: 0,
    lowerHours: 1500,
    upperHours: Number.POSITIVE_INFINITY,
    end: "still fitted",
    lateEntry: false,
    observedFromHours: 0,
    lastHours: 1500,
    environmentFrom: "flying",
    aircraft: `A${i % 10}`,
    position: "A",
    firstDay: asOf - 1000,
    lastDay: asOf - 10,
    eventDay: null,
    removedDay: null,
    removal: null,
    functionalFailureHours: null,
    readingHours: hours,
    readingWearMm: hours.map((h) => (i < 30 ? 0.00026 : 0.0001) * h),
    readingDays: hours.map((h) => asOf - 1510 + h),
    lookHours: hours,
    lookDays: hours.map((h) => asOf - 1510 + h),
    rows: [],
  };
});

/** A context in which every rule passes. */
const passing: RuleContext = {
  fleet,
  task,
  group: lives[0]!.group,
  asOf,
  presentH: 300,
  isReview: true,
  lives,
  counted: {
    overLimit: 2,
    looks: 500,
    share: { estimate: 0.004, lower: 0, upper: 0.02 },
    since: null,
    ages: null,
  },
  functionalFailures: {
    failures: 0,
    hours: 1e5,
    per1000H: null,
    inLast24Months: 0,
    open: 0,
    firstOpen: null,
    lacks: null,
  },
  atCandidate: {
    intervalH: 400,
    overLimitPerInspection: { life: null, wear: null },
    unsafeBeforeSeen: { estimate: 0.0005, lower: 0, upper: 0.0009 },
  },
  tenPercentHours: 1400,
  oldest: { serial: "S", hours: 1500, chanceNextLook: { estimate: 0.05, lower: null, upper: null } },
  looksWithNumber: { numbers: 500, looks: 500 },
  rows: { read: 1000, rejected: 1, unassigned: 2 },
  alert: { open: false, why: null },
  lastDecision: null,
  goBack: null,
  checks: {
    spreadAsModelled: good,
    heaping: good,
    fitAlternative: good,
    farFromLimit: { passed: false, found: "12.0 of 40 fitted expected there by two more looks" },
    linesAgree: good,
    upperExponent: good,
    wearWhenFound: good,
  },
  borrowed: [],
  safeguardsMissing: [],
};
const outcomeOf = (rule: string, context: RuleContext) =>
  evaluateRules(context).find((one) => one.rule === rule)!.outcome;
const failedIn = (context: RuleContext) =>
  evaluateRules(context)
    .filter(({ outcome }) => outcome === "failed")
    .map(({ rule }) => rule);

describe("evaluateRules(context)", () => {
  it("passes every rule where all is well, and an unsafe-at limit makes one not applicable", () => {
    expect(failedIn(passing)).toEqual([]);
    expect(allPassed(evaluateRules(passing))).toBe(true);
    expect(outcomeOf("wear when found", passing)).toBe("not applicable");
  });

  it("has nothing against an own line beside a borrowed one", () => {
    const shape = { what: "shape of lives" as const, from: [], p: 0.4, found: "shape 3", refused: null };
    expect(outcomeOf("borrowed", passing)).toBe("not applicable");
    expect(outcomeOf("borrowed", { ...passing, borrowed: [{ ...shape, alone: false }] })).toBe("passed");
    const refused = { ...shape, found: null, refused: "they differ", alone: true };
    expect(outcomeOf("borrowed", { ...passing, borrowed: [refused] })).toBe("not applicable");
  });

  const notRecorded = lives.map((life, i) => (i < 45 ? { ...life, aircraft: "" } : life));
  const oneAircraft = lives.map((life, i) => (i < 45 ? { ...life, aircraft: "A0" } : life));
  const early = lives.map((life, i) =>
    i < 10
      ? { ...life, upperHours: 1600, end: i < 3 ? ("early removal" as const) : ("over limit found" as const) }
      : life,
  );
  const short = lives.map((life) => ({
    ...life,
    lastHours: 900,
    environmentFrom: "flying" as const,
    readingWearMm: life.readingWearMm.map(() => 0.1),
  }));
  const noCheck = (name: keyof RuleContext["checks"]) => ({ checks: { ...passing.checks, [name]: null } });
  const decision = {
    task: task.task,
    environment: null,
    standard: null,
    intervalH: 400,
    on: asOf - 100,
    outcome: "refused" as const,
    reference: null,
    revisit: null,
    promisedShare: null,
  };

  /** Nine finds in the first 100 looks after an extension from 200 h, where nine tell to go back. */
  const reachedGoBack: RuleContext["goBack"] = {
    since: asOf - 300,
    intervalH: 300,
    formerH: 200,
    promisedShare: 0.03,
    promisedBy: "decision",
    counted: [],
    finds: 9,
    looks: 100,
    stage: { looks: 100, finds: 9, falseAlarm: 0.025 },
    reachedAt: 100,
  };
  /** Rules that fail in another way than alone. */
  const also = new Set<string>();
  const failing: readonly [string, Partial<RuleContext>][] = [
    [
      "borrowed",
      {
        borrowed: [
          {
            what: "spread of rates",
            from: [],
            p: 0.4,
            found: "standard deviation 0.4",
            refused: null,
            alone: true,
          },
        ],
      },
    ],
    ["basis", { task: { ...task, basis: "directive" } }],
    ["review", { isReview: false }],
    ["looks at the present interval", { counted: { ...passing.counted, looks: 59 } }],
    [
      "direct count",
      { counted: { ...passing.counted, overLimit: 51, share: { estimate: 0.102, lower: 0.05, upper: 0.2 } } },
    ],
    [
      "functional failures",
      { functionalFailures: { ...passing.functionalFailures, failures: 1, inLast24Months: 1 } },
    ],
    [
      "functional failures",
      {
        functionalFailures: {
          ...passing.functionalFailures,
          open: 1,
          firstOpen: { source: "removals.csv:7", why: "the row was rejected" },
        },
      },
    ],
    [
      "functional failures",
      { functionalFailures: { ...passing.functionalFailures, lacks: "no removals are exported" } },
    ],
    ["no single aircraft", { lives: oneAircraft }],
    ["no single aircraft", { lives: notRecorded }],
    ["readings complete", { looksWithNumber: { numbers: 449, looks: 500 } }],
    ["rejected rows", { rows: { read: 1000, rejected: 21, unassigned: 0 } }],
    ["rejected rows", { rows: { read: 1000, rejected: 11, unassigned: 10 } }],
    ["no open alert", { alert: { open: true, why: "2026-01 and 2026-02 over the 99 % limit" } }],
    ["no open alert", { alert: { open: null, why: "2026-01 had removals and no alert level" } }],
    ["last decision", { lastDecision: decision }],
    ["followed far enough", { lives: short }],
    ["early removals", { lives: early }],
    [
      "oldest component",
      { oldest: { ...passing.oldest!, chanceNextLook: { estimate: 0.21, lower: null, upper: null } } },
    ],
    [
      "oldest component",
      { oldest: { ...passing.oldest!, chanceNextLook: { estimate: 0.17, lower: 0.11, upper: 0.22 } } },
    ],
    ["spread as modelled", noCheck("spreadAsModelled")],
    ["no heaping", noCheck("heaping")],
    ["fit", noCheck("fitAlternative")],
    ["lines agree", noCheck("linesAgree")],
    ["upper exponent", noCheck("upperExponent")],
    ["since the last change", { goBack: reachedGoBack }],
    ["safeguards", { safeguardsMissing: ["one of them"] }],
  ];

  it.each(failing)("fails %s alone, and says what would settle it", (rule, change) => {
    const outcomes = evaluateRules({ ...passing, ...change });
    expect(outcomes.filter(({ outcome }) => outcome === "failed").map((one) => one.rule)).toEqual([rule]);
    expect(outcomes.find((one) => one.rule === rule)!.settle).toMatch(/\w/);
  });

  it("asks for 60 components with readings only to rely on an unsafe risk below 1 %", () => {
    const few = { lives: lives.slice(0, 59) };
    expect(failedIn({ ...passing, ...few })).toEqual(["components for a small unsafe risk"]);
    const large = {
      atCandidate: { ...passing.atCandidate, unsafeBeforeSeen: { estimate: 0.02, lower: 0, upper: 0.05 } },
    };
    expect(outcomeOf("components for a small unsafe risk", { ...passing, ...few, ...large })).toBe(
      "not applicable",
    );
  });

  it("computes when enough lives will be there at the pace of the last year", () => {
    const young = lives.slice(0, 14).map((life) => ({ ...life, firstDay: asOf - 100 }));
    const outcome = evaluateRules({ ...passing, lives: young }).find(({ rule }) => rule === "lives")!;
    // 6 more, 14 came in a year: 12 × 6 / 14 = 5.1 months, rounded up.
    expect(outcome.settle).toBe("6 more lives, about 6 months at the present pace");
  });

  it.each<[string, Partial<RuleContext>]>([
    ["lives", { lives: lives.slice(0, 14) }],
    ["aircraft", { lives: lives.map((life, i) => ({ ...life, aircraft: `A${i % 4}` })) }],
    ["components for a small unsafe risk", { lives: lives.slice(0, 59) }],
    [
      "wear when found",
      {
        fleet: { ...fleet, parts: fleet.parts.map((part) => ({ ...part, unsafeAtMm: null })) },
        ...noCheck("wearWhenFound"),
      },
    ],
  ])("fails %s, which takes others with it or needs another fleet", (rule, change) => {
    expect(outcomeOf(rule, { ...passing, ...change })).toBe("failed");
    also.add(rule);
  });

  it("has a failing case above for every rule", () => {
    const tested = new Set([...failing.map(([rule]) => rule), ...also]);
    expect(EVIDENCE_RULES.map(({ rule }) => rule).filter((rule) => !tested.has(rule))).toEqual([]);
  });

  it("has a name and a question for every rule, no two alike", () => {
    const names = EVIDENCE_RULES.map(({ rule }) => rule);
    expect(new Set(names).size).toBe(names.length);
    for (const { asks } of EVIDENCE_RULES) expect(asks).toMatch(/\?$/);
  });
});

describe('the rule "followed far enough"', () => {
  const young: RuleContext = { ...passing, lives: [], tenPercentHours: null };
  const soon = (passed: boolean): RuleContext => ({
    ...young,
    checks: {
      ...young.checks,
      farFromLimit: { passed, found: "0.4 of 40 fitted expected there by two more looks" },
    },
  });

  it("passes where nobody was followed far, if hardly any fitted component gets there before two more looks", () => {
    expect(outcomeOf("followed far enough", soon(true))).toBe("passed");
    expect(outcomeOf("followed far enough", soon(false))).toBe("failed");
  });

  it("fails where neither can be said", () => {
    const unknown = { ...young, checks: { ...young.checks, farFromLimit: null } };
    expect(outcomeOf("followed far enough", unknown)).toBe("failed");
  });
});
