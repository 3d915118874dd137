import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { withBorrowing } from "../../src/interval/borrow.ts";
import { borrowedClause, borrowedFrom, borrowedSentence } from "../../src/interval/borrowed-words.ts";
import { type GroupEvidence, groupEvidence, type Lines } from "../../src/interval/evidence.ts";
import { judge } from "../../src/interval/judge.ts";
import type { Bounded } from "../../src/interval/month-result.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "../records/make-life.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText } from "../support/make-exports.ts";

const settings = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const [task] = settings.tasks;
const [given] = settings.parts;
const part = { ...given!, replaceAtMm: 0.5, unsafeAtMm: 0.8 };
const fleet = {
  ...settings,
  parts: [part],
  acceptable: { ...settings.acceptable, detectionChance: 0.9, overLimitPerInspection: 0.1 },
};
const C = fleet.acceptable.confidence;

interface Recipe {
  readonly environment: string;
  readonly components: number;
  readonly aircraft?: number;
  readonly medianRate: number;
  readonly spread?: number;
  readonly looks?: number;
  readonly seed: number;
}

/** Components from new, looked at every 300 h until they are at the limit or the looks are over. */
function lives({
  environment,
  components,
  aircraft = 6,
  medianRate,
  spread = 0.35,
  looks = 9,
  seed,
}: Recipe) {
  const random = seededRandom(seed);
  return Array.from({ length: components }, (_, component): Life => {
    const rate = medianRate * Math.exp(spread * random.normal());
    const readingHours: number[] = [];
    const readingWearMm: number[] = [];
    while (readingHours.length < looks && !(readingWearMm.at(-1)! >= part.replaceAtMm)) {
      const hours = 300 * (readingHours.length + 1) + 20 * random.uniform();
      readingHours.push(hours);
      readingWearMm.push(0.02 + (rate * hours) / 1000 + 0.012 * random.normal());
    }
    const found = readingWearMm.at(-1)! >= part.replaceAtMm;
    return makeLife({
      component,
      group: { part: part.part, environment, standard: "plain" },
      aircraft: `${environment} ${component % aircraft}`,
      readingHours,
      readingWearMm,
      lowerHours: found ? (readingHours.at(-2) ?? 0) : readingHours.at(-1)!,
      upperHours: found ? readingHours.at(-1)! : Number.POSITIVE_INFINITY,
      end: found ? "over limit found" : "still fitted",
    });
  });
}
const evidenceOf = (own: readonly Life[]): GroupEvidence =>
  groupEvidence(own[0]!.group, own, part, fleet.acceptable.detectionChance, C);

const SANDY = evidenceOf(lives({ environment: "sandy", components: 30, medianRate: 0.3, seed: 1 }));
const COASTAL = evidenceOf(lives({ environment: "coastal", components: 24, medianRate: 0.2, seed: 12 }));
const thinOf = (recipe: Partial<Recipe>): GroupEvidence =>
  evidenceOf(lives({ environment: "arctic", components: 6, medianRate: 0.1, looks: 3, seed: 7, ...recipe }));
const thinAmong = (thin: GroupEvidence, others: readonly GroupEvidence[] = [SANDY, COASTAL]) =>
  withBorrowing(thin, [...others, thin], fleet);
const said = ({ borrowed }: GroupEvidence) =>
  borrowed.map(({ what, refused }) => [what, refused === null ? "lent" : "refused"]);

/** Every risk at some intervals, for comparison. */
const risksOf = (lines: Lines): (Bounded | null)[] =>
  [150, 660].flatMap((spacingH) =>
    [lines.risks.counted, lines.risks.censored].flatMap(({ life, wear, unsafe }) => [
      life(spacingH),
      wear(spacingH),
      unsafe(spacingH),
    ]),
  );

function expectNoneLower(own: Lines, combined: Lines): void {
  const before = risksOf(own);
  for (const [k, after] of risksOf(combined).entries()) {
    const mine = before[k];
    if (mine == null) continue;
    expect(after!.estimate).toBeGreaterThanOrEqual(mine.estimate);
    if (mine.lower !== null) expect(after!.lower).toBeGreaterThanOrEqual(mine.lower);
    if (mine.upper === null) expect(after!.upper).toBeNull();
    else if (after!.upper !== null) expect(after!.upper).toBeGreaterThanOrEqual(mine.upper);
  }
}

describe("withBorrowing(group, groups, fleet)", () => {
  it("gives a group of six components a wear bound and an unsafe risk that it had not", () => {
    const thin = thinOf({});
    const group = thinAmong(thin);
    expect(said(group)).toEqual([
      ["shape of lives", "lent"],
      ["spread of rates", "lent"],
    ]);
    expect(thin.linesAt(C).risks.counted.wear(330)).toBeNull();
    const { wear, unsafe } = group.linesAt(C).risks.counted;
    const share = wear(330)!;
    expect(share.lower!).toBeLessThanOrEqual(share.estimate);
    expect(share.upper!).toBeGreaterThan(share.estimate);
    expect(unsafe(330)!.upper!).toBeGreaterThan(0);
    expect(group.linesAt(C).borrowed.map(({ method }) => method)).toEqual(["life", "wear"]);
    // What checks of the model look at stays the group's own, so rules that need them fail.
    expect(group.linesAt(C).wear.kind).toBe("none");
  });

  it("never makes a risk lower than the group's own lines say, whatever the thin group", () => {
    for (const recipe of [
      {},
      { components: 12, looks: 2, medianRate: 0.3, seed: 22 },
      { components: 9, looks: 6, medianRate: 0.12, seed: 23 },
      { components: 3, aircraft: 3, medianRate: 0.2, seed: 24 },
    ]) {
      const thin = thinOf(recipe);
      expectNoneLower(thin.linesAt(C), thinAmong(thin).linesAt(C));
    }
  });

  it("has the same of it in whatever order the groups come", () => {
    const thin = thinOf({});
    const risks = (groups: readonly GroupEvidence[]) =>
      risksOf(withBorrowing(thin, groups, fleet).linesAt(C));
    expect(risks([thin, COASTAL, SANDY])).toEqual(risks([SANDY, thin, COASTAL]));
  });

  it("leaves groups with fits of their own as they are, and a part with one neighbour too", () => {
    const sandy = withBorrowing(SANDY, [SANDY, COASTAL, thinOf({})], fleet);
    expect(sandy.borrowed).toEqual([]);
    expect(sandy.linesAt(C)).toBe(SANDY.linesAt(C));
    expect(thinAmong(thinOf({}), [SANDY]).borrowed).toEqual([]);
    const other = { ...COASTAL, key: { ...COASTAL.key, part: "link bearing" } };
    expect(thinAmong(thinOf({}), [SANDY, other]).borrowed).toEqual([]);
  });

  it("refuses where the test rejects, says so, and changes nothing", () => {
    const even = evidenceOf(
      lives({ environment: "coastal", components: 40, medianRate: 0.2, spread: 0.06, seed: 3 }),
    );
    const thin = thinOf({});
    const group = thinAmong(thin, [SANDY, even]);
    expect(said(group)).toEqual([
      ["shape of lives", "refused"],
      ["spread of rates", "refused"],
    ]);
    expect(group.linesAt(C)).toBe(thin.linesAt(C));
    expect(group.borrowed.map(borrowedSentence)[1]).toMatch(
      /^Too thin by itself, this group could not borrow the spread of rates from coastal plain, sandy plain: their own spreads or scatters differ \(p under 0\.001\)\.$/,
    );
    expect(borrowedClause(group.borrowed)).toBe("");
  });

  it("asks for the p that the fleet file sets", () => {
    const strict = { ...fleet, evidence: { ...fleet.evidence, borrowP: 0.9999 } };
    const thin = thinOf({});
    const group = withBorrowing(thin, [SANDY, COASTAL, thin], strict);
    expect(said(group)).toContainEqual(["spread of rates", "refused"]);
  });

  it("asks for no spread with components of two aircraft, or readings that mislead", () => {
    const spread = (group: GroupEvidence) => said(group).filter(([what]) => what === "spread of rates");
    expect(spread(thinAmong(thinOf({ aircraft: 2 })))).toEqual([]);
    const own = thinOf({}).lives.map((life, k) =>
      k < 2
        ? {
            ...life,
            end: "over limit found" as const,
            upperHours: life.lowerHours + 300,
            lastHours: life.lowerHours + 300,
            lookHours: [...life.lookHours, life.lowerHours + 300],
            removal: { mode: "wear", inService: false, noFaultFound: false },
            removedDay: 900,
          }
        : life,
    );
    expect(spread(thinAmong(evidenceOf(own)))).toEqual([]);
  });
});

describe("judge(task, evidence, month) on a group that borrows", () => {
  const asOf = dayOfText("2024-12-31");
  const month = {
    fleet,
    asOf,
    serials: Array.from({ length: 60 }, (_, k) => `S${k}`),
    rows: { read: 100, rejected: 0, unassigned: 0 },
    alerts: [],
    failures: { failures: [], open: [], lacks: null },
    safeguardsMissing: [],
  };

  it("shortens where six components wear fast, which they could not show alone", () => {
    const thin = thinOf({ medianRate: 1.1, looks: 1, components: 7, seed: 5 });
    const alone = judge(task!, thin, month).decided;
    const { decided } = judge(task!, thinAmong(thin), month);
    expect(alone.row).not.toBe(1);
    expect([1, 3]).toContain(decided.row);
    expect(decided.answer).toBe("shorten");
  });

  it("extends nothing: the rule says what stands on other groups alone, and count rules see the group's own", () => {
    const thin = thinOf({ medianRate: 0.02, components: 9, looks: 9 });
    const { outcomes, decided } = judge(task!, thinAmong(thin), month);
    const outcomeOf = (rule: string) => outcomes.find((one) => one.rule === rule)!;
    expect(outcomeOf("borrowed")).toMatchObject({
      outcome: "failed",
      found: "shape of lives borrowed, beside an own line; spread of rates borrowed, no own line",
    });
    expect(outcomeOf("lives")).toMatchObject({ outcome: "failed", found: "9 lives looked at" });
    expect(decided.answer).not.toBe("extend");
  });
});

describe("borrowedSentence(borrowed), borrowedClause(borrowed)", () => {
  it("name the groups, what is shared, the test, and what it is not good for", () => {
    const { borrowed } = thinAmong(thinOf({}));
    const [shape, spread] = borrowed.map(borrowedSentence);
    expect(shape).toMatch(
      /^Beside the assumed shapes stands the one that coastal plain, sandy plain have in common, shape [\d.]+ \([\d.]+ to [\d.]+\): no test says that they differ \(least p [\d.]+\)\. The worse of the two counts\.$/,
    );
    expect(spread).toMatch(/borrowed from coastal plain, sandy plain .*Nothing is extended on it\.$/);
    expect(borrowedFrom(borrowed, "spread of rates")).toBe(
      " Spread of rates and scatter are taken from coastal plain, sandy plain.",
    );
    expect(borrowedFrom([], "spread of rates")).toBe("");
    expect(borrowedClause(borrowed)).toBe(
      " Its wear bounds borrow the spread of rates from coastal plain, sandy plain; the mean rate is its own.",
    );
  });
});
