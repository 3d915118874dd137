import { describe, expect, it } from "vitest";
import { groupEvidence } from "../../src/interval/evidence.ts";
import { withSources } from "../../src/interval/odd-lines.ts";
import { compareRates } from "../../src/interval/rate-comparison.ts";
import { sealFinding } from "../../src/interval/seal-finding.ts";
import { standardChanges } from "../../src/interval/standard-change.ts";
import { watchRecord, watchTally } from "../../src/interval/watch-record.ts";
import { type WearChecks, wearChecks } from "../../src/interval/wear-checks.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { GapJoin, JoinedGap } from "../../src/records/gap-join.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "../records/make-life.ts";
import { makeExports } from "../support/make-exports.ts";
import { makeFleetSettings } from "../support/make-fleet-settings.ts";

const PART = "grip bearing";

interface Spell {
  readonly environment: string;
  readonly standard?: string;
  readonly looks: number;
  /** mm per 1000 h */
  readonly rate: number;
}

/** One life of spells one after the other, looked at every 300 h: a piece for each. */
function livesOf(component: number, aircraft: string, spells: readonly Spell[], noise: () => number): Life[] {
  let hours = 0;
  let wear = 0.02;
  return spells.map(({ environment, standard = "plain", looks, rate }, k) => {
    const entryHours = hours;
    const readingHours: number[] = [];
    const readingWearMm: number[] = [];
    for (let look = 0; look < looks; look++) {
      hours += 300;
      wear += 0.3 * rate;
      readingHours.push(hours);
      readingWearMm.push(wear + noise());
    }
    return makeLife({
      component,
      group: { part: PART, environment, standard },
      piece: k + 1,
      entryHours,
      observedFromHours: entryHours,
      aircraft,
      readingHours,
      readingWearMm,
    });
  });
}

describe("compareRates(lives, confidence)", () => {
  const random = seededRandom(5);
  const noise = () => 0.01 * random.normal();
  const lives = Array.from({ length: 60 }, (_, k) => {
    const own = Math.exp(0.2 * random.normal());
    const sandy = { environment: "sandy", rate: 0.6 * own };
    const temperate = { environment: "temperate", rate: 0.2 * own };
    const spells =
      k % 3 === 0
        ? [{ ...sandy, looks: 4 }]
        : k % 3 === 1
          ? [{ ...temperate, looks: 5 }]
          : [
              { ...temperate, looks: 2 },
              { ...sandy, looks: 2 },
            ];
    return livesOf(k, `A${k % 10}`, spells, noise);
  }).flat();

  it("lets a component that moved count its hours in each place (by hand), and holds the truth of 3 times", () => {
    const compared = compareRates(lives, 0.95);
    if (compared.kind !== "fitted") throw new Error(compared.why);
    expect(compared).toMatchObject({ components: 60, aircraft: 10, moved: 20, leftOut: [] });
    const [sandy, temperate] = compared.rates;
    // 20 components of 4 looks and 20 of 2 in sand; 20 of 5 and 20 of 2 elsewhere; 300 h each.
    expect(sandy).toMatchObject({ environment: "sandy", hours: 300 * (20 * 4 + 20 * 2) });
    expect(temperate).toMatchObject({ environment: "temperate", hours: 300 * (20 * 5 + 20 * 2) });
    expect(temperate!.timesSlowest).toBeNull();
    expect(sandy!.timesSlowest!.lower!).toBeLessThan(3);
    expect(sandy!.timesSlowest!.upper!).toBeGreaterThan(3);
    expect(sandy!.timesSlowest!.lower!).toBeGreaterThan(2.5);
  });

  it("leaves out places with fewer than three components, unassigned ones, and says when nothing is left to compare", () => {
    const rare = livesOf(90, "A1", [{ environment: "coastal", looks: 3, rate: 0.3 }], noise);
    const unknown = livesOf(91, "A1", [{ environment: "unassigned", looks: 3, rate: 0.3 }], noise);
    const compared = compareRates([...lives, ...rare, ...unknown], 0.95);
    expect(compared).toMatchObject({ kind: "fitted", leftOut: ["coastal, plain"], components: 60 });
    const sandy = lives.filter(({ group, piece }) => group.environment === "sandy" && piece === 1);
    expect(compareRates(sandy, 0.95)).toMatchObject({ kind: "none", why: /only one/ });
  });
});

describe("standardChanges(lives, confidence)", () => {
  it("finds by how much the same components wear slower with another ring", () => {
    const random = seededRandom(8);
    const lives = Array.from({ length: 20 }, (_, k) => {
      const own = Math.exp(0.3 * random.normal());
      const spells = [
        { environment: "sandy", standard: "plain", looks: 3, rate: 0.3 * own },
        { environment: "sandy", standard: "shielded", looks: 3, rate: 0.3 * own - 0.15 },
      ];
      return livesOf(k, `A${k % 7}`, spells, () => 0.008 * random.normal());
    }).flat();
    const [change, ...others] = standardChanges(lives, 0.95);
    expect(others).toEqual([]);
    if (change?.change.kind !== "fitted") throw new Error("no fit");
    expect(change).toMatchObject({ from: "plain", to: "shielded" });
    expect(change.change).toMatchObject({ components: 20, aircraft: 7 });
    expect(change.change.lower).toBeLessThan(-0.15);
    expect(change.change.upper).toBeGreaterThan(-0.15);
    expect(change.change.upper).toBeLessThan(-0.1);
  });
});

describe("sealFinding(lives, gaps, tolerances, confidence)", () => {
  const tolerances = [{ standard: "plain", lowMm: 0, highMm: 1 }];
  const gap = (component: number, hours: number, gapMm: number, state: JoinedGap["state"]): JoinedGap => ({
    row: 0,
    component,
    day: Math.round(hours / 3),
    hours,
    gapMm,
    state,
  });
  const join = (joined: readonly JoinedGap[]): GapJoin => ({ joined, notJoined: new Map() });

  it("takes hours between visits from as left to as found, three ways (by hand)", () => {
    const random = seededRandom(3);
    const noise = () => 0.005 * random.normal();
    const lives = Array.from({ length: 8 }, (_, k) =>
      livesOf(k, `A${k}`, [{ environment: "sandy", looks: 4, rate: 0.3 }], noise),
    ).flat();
    const gaps = Array.from({ length: 8 }, (_, k) => [
      // 0.8 left, 1.4 found: over 1 mm after a third of 300 h; not set again, so out for the next 300 h; then set, in.
      gap(k, 300, 0.8, "left"),
      gap(k, 600, 1.4, "found"),
      gap(k, 900, 1.6, "found"),
      gap(k, 900, 0.3, "left"),
      gap(k, 1200, 0.6, "found"),
    ]).flat();
    const finding = sealFinding(lives, join(gaps), tolerances, 0.95);
    if (finding.kind !== "fitted") throw new Error(finding.why);
    expect(finding).toMatchObject({ joined: 40, notJoined: 0, components: 8 });
    const [group] = finding.groups;
    const hours = group!.ways.map(({ crossing, hoursIn, hoursOut }) => [
      crossing,
      Math.round(hoursIn),
      Math.round(hoursOut),
    ]);
    expect(hours).toEqual([
      ["straight", 8 * 400, 8 * 500],
      ["at once", 8 * 300, 8 * 600],
      ["at the end", 8 * 600, 8 * 300],
    ]);
    // Drift: (0.6 + 0.2 + 0.3) mm in 900 h.
    expect(group!.driftMmPer1000H!.estimate).toBeCloseTo(1.1 / 0.9, 10);
  });

  it("holds a threefold rate out of tolerance, and the scenario follows from it (by hand)", () => {
    const random = seededRandom(11);
    const lives: Life[] = [];
    const gaps: JoinedGap[] = [];
    for (let k = 0; k < 48; k++) {
      const own = 0.2 * Math.exp(0.2 * random.normal());
      const out = Array.from({ length: 5 }, () => random.uniform() < 0.4);
      const spells = out.map((isOut) => ({ environment: "sandy", looks: 1, rate: isOut ? 3 * own : own }));
      const pieces = livesOf(k, `A${k % 16}`, spells, () => 0.006 * random.normal());
      lives.push(
        makeLife({
          ...pieces[0]!,
          readingHours: pieces.flatMap(({ readingHours }) => readingHours),
          readingWearMm: pieces.flatMap(({ readingWearMm }) => readingWearMm),
        }),
      );
      for (const [look, isOut] of out.entries()) {
        gaps.push(
          gap(k, 300 * look, isOut ? 1.3 : 0.4, "left"),
          gap(k, 300 * (look + 1), isOut ? 1.5 : 0.6, "found"),
        );
      }
    }
    const finding = sealFinding(lives, join(gaps), tolerances, 0.95);
    if (finding.kind !== "fitted") throw new Error(finding.why);
    const { pessimistic, rateAllIn } = finding.groups[0]!;
    const { estimate, lower, upper } = pessimistic!.ratio!;
    expect(lower!).toBeLessThan(3);
    expect(upper!).toBeGreaterThan(3);
    expect(lower!).toBeGreaterThan(2);
    const share = pessimistic!.hoursOut / (pessimistic!.hoursIn + pessimistic!.hoursOut);
    expect(rateAllIn!.estimate).toBeCloseTo(1 / (1 + share * (estimate - 1)), 12);
  });

  it("says why it knows nothing", () => {
    const lives = livesOf(0, "A1", [{ environment: "sandy", looks: 3, rate: 0.2 }], () => 0);
    expect(sealFinding(lives, join([]), tolerances, 0.95)).toMatchObject({
      kind: "none",
      why: /no gap reading/,
    });
    const two = [gap(0, 300, 0.5, "left"), gap(0, 600, 0.8, "found")];
    expect(sealFinding(lives, join(two), [], 0.95)).toMatchObject({ kind: "none", why: /tolerance/ });
  });
});

describe("wearChecks and watchRecord on a group with one slip of the pen", () => {
  const random = seededRandom(21);
  const fleet = makeFleetSettings();
  const part = fleet.parts.find(({ part: name }) => name === PART)!;
  const looks: { serial: string; on: string; hours: number; wear: number }[] = [];
  const lives = Array.from({ length: 60 }, (_, k) => {
    const rate = 0.25 * Math.exp(0.3 * random.normal());
    const readingHours: number[] = [];
    const readingWearMm: number[] = [];
    for (let look = 1; look <= 8; look++) {
      const hours = 300 * look;
      const slip = k === 7 && look === 3 ? 0.15 : 0;
      const wear = 0.02 + (rate * hours) / 1000 + 0.01 * random.normal() + slip;
      readingHours.push(hours);
      readingWearMm.push(wear);
      looks.push({
        serial: `S${k}`,
        on: new Date((hours / 3) * 86_400_000).toISOString().slice(0, 10),
        hours,
        wear,
      });
      if (wear >= part.replaceAtMm) break;
    }
    const over = readingWearMm.at(-1)! >= part.replaceAtMm;
    return makeLife({
      component: k,
      group: { part: PART, environment: "sandy", standard: "plain" },
      aircraft: `A${k % 12}`,
      readingHours,
      readingWearMm,
      ...(over
        ? {
            end: "over limit found" as const,
            upperHours: readingHours.at(-1)!,
            removedDay: 1,
            lowerHours: readingHours.at(-2) ?? 0,
          }
        : {}),
    });
  });
  const evidence = groupEvidence(lives[0]!.group, lives, part, 0.9, 0.95);
  const exports = makeExports({ looks });

  it("finds the odd reading, its row and what it does to its component's rate", () => {
    const unplaced = wearChecks(evidence, {
      serials: exports.components.serial,
      measurementSdMm: 0.01,
      intervalH: 300,
      confidence: 0.95,
    });
    const [{ measurement, robustRatePer1000H, shape }] = withSources(exports, [unplaced]) as [WearChecks];
    expect(measurement.odd[0]).toMatchObject({ serial: "S7", hours: 900 });
    const line = 2 + looks.findIndex(({ serial, hours }) => serial === "S7" && hours === 900);
    expect(measurement.odd[0]!.source).toBe(`wear.csv:${line}`);
    expect(measurement.looksWithNumber).toBe(looks.length);
    expect(measurement.looks).toBe(looks.length);
    expect(Math.abs(robustRatePer1000H!.estimate - 0.25)).toBeLessThan(0.04);
    if (shape.runningIn.kind !== "fitted") throw new Error("too few");
    expect(shape.runningIn.lower).toBeLessThan(0);
    expect(shape.runningIn.upper).toBeGreaterThan(0);
    expect(shape.curvature).toMatchObject({ kind: "fitted" });
  });

  it("predicts every look after the first, and about as many are over as were given a chance", () => {
    const bands = watchRecord([watchTally(evidence, 0.95)], 0.95);
    expect(bands.reduce((sum, band) => sum + band.looks, 0)).toBe(looks.length - 60);
    const over = bands.reduce((sum, band) => sum + band.over, 0);
    expect(over).toBe(
      lives.filter(({ end, readingHours }) => end === "over limit found" && readingHours.length > 1).length,
    );
    // Of six bands at 95 % none is missed by more than its bounds three times in four.
    const missed = bands.filter(
      ({ predicted, share }) => predicted < share.lower! || predicted > share.upper!,
    );
    expect(missed.length).toBeLessThanOrEqual(1);
    for (const { from, to, predicted } of bands) {
      expect(predicted).toBeGreaterThanOrEqual(from);
      expect(predicted).toBeLessThanOrEqual(to);
    }
  });
});
