/**
 * Directions that must hold with the fits held fixed: a lower acceptable risk, detection chance or unsafe-at limit, a
 * higher confidence, tolerance or scatter never lengthens an interval; and all readings times c > 1 never do either.
 */
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { decide } from "../../src/interval/decide.ts";
import { groupEvidence } from "../../src/interval/evidence.ts";
import { risksOnGrid, weighed } from "../../src/interval/risks.ts";
import { looksBeforeUnsafe, unsafeBeforeSeen, usableMarginMm } from "../../src/interval/unsafe-risk.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "../records/make-life.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";

const fleet = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const GRID = [100, 200, 300, 400, 500, 600];

/** 60 components of 12 aircraft looked at every 300 h until at 0.50 mm; rates lognormal; readings times `scale`. */
function lives(scale = 1): Life[] {
  const random = seededRandom(5);
  return Array.from({ length: 60 }, (_, component) => {
    const rate = Math.exp(Math.log(0.22) + 0.3 * random.normal());
    const readingHours: number[] = [];
    const readingWearMm: number[] = [];
    let over = false;
    for (let hours = 300; hours <= 2100 && !over; hours += 300) {
      const wear = scale * Math.max(0, 0.01 + (rate * hours) / 1000 + 0.005 * random.normal());
      readingHours.push(hours);
      readingWearMm.push(wear);
      over = wear >= 0.5;
    }
    const last = readingHours.at(-1)!;
    const before = readingHours.at(-2) ?? 0;
    return makeLife({
      component,
      readingHours,
      readingWearMm,
      aircraft: `A${component % 12}`,
      lowerHours: over ? before : last,
      upperHours: over ? last : Number.POSITIVE_INFINITY,
      end: over ? "over limit found" : "still fitted",
    });
  });
}

interface Settings {
  readonly scale: number;
  readonly overLimit: number;
  readonly unsafe: number;
  readonly detection: number;
  readonly unsafeAtMm: number;
  readonly confidence: number;
  readonly tolerance: number;
}

const AS_IS: Settings = {
  scale: 1,
  overLimit: 0.2,
  unsafe: 0.01,
  detection: 0.9,
  unsafeAtMm: 0.9,
  confidence: 0.95,
  tolerance: 0.1,
};

const evidenceOf = new Map<string, ReturnType<typeof groupEvidence>>();

/** The longest interval whose bounds hold, 0 where none does. */
function longest(change: Partial<Settings>): number {
  const s = { ...AS_IS, ...change };
  const key = JSON.stringify([s.scale, s.detection, s.unsafeAtMm]);
  const part = { ...fleet.parts[0]!, unsafeAtMm: s.unsafeAtMm };
  const own = lives(s.scale);
  // Always the same confidence for the fits themselves; only the bounds' is changed.
  const evidence = evidenceOf.get(key) ?? groupEvidence(own[0]!.group, own, part, s.detection, 0.95);
  evidenceOf.set(key, evidence);
  const acceptable = { ...fleet.acceptable, overLimitPerInspection: s.overLimit, unsafeBeforeSeen: s.unsafe };
  const grid = weighed(
    risksOnGrid(GRID, s.tolerance, evidence.linesAt(s.confidence).risks.counted),
    acceptable,
    part,
  );
  const decided = decide({
    grid,
    beyondPresent: (intervalH) => grid.find((at) => at.intervalH === intervalH)!,
    presentH: 300,
    largestChange: 1,
    functionalFailures: { name: "functional failures", acceptable: 0.01, value: null },
    firstInspectionH: 1e6,
    mayExtendTo: () => true,
  });
  return decided.longestByBoundH ?? 0;
}

describe("the longest interval that is demonstrated", () => {
  const now = longest({});

  it("is somewhere on the grid, so that it can move both ways", () => {
    expect(now).toBeGreaterThan(GRID[0]!);
    expect(now).toBeLessThan(GRID.at(-1)!);
  });

  it.each<[string, readonly Partial<Settings>[]]>([
    ["acceptable over-limit share", [0.4, 0.2, 0.05, 0.01].map((overLimit) => ({ overLimit }))],
    ["acceptable unsafe risk", [0.1, 0.03, 0.01, 0.002, 0.0002].map((unsafe) => ({ unsafe }))],
    ["detection chance", [0.99, 0.9, 0.5].map((detection) => ({ detection }))],
    ["unsafe-at limit", [1.1, 0.9, 0.6].map((unsafeAtMm) => ({ unsafeAtMm }))],
    ["confidence", [0.8, 0.9, 0.95, 0.99].map((confidence) => ({ confidence }))],
    ["tolerance", [0, 0.1, 0.25, 0.5].map((tolerance) => ({ tolerance }))],
    ["readings all times a factor", [0.8, 1, 1.6].map((scale) => ({ scale }))],
  ])("never gets longer from step to step of %s, and is shorter in the end", (_, steps) => {
    const found = steps.map(longest);
    expect(found).toEqual([...found].sort((a, b) => b - a));
    expect(found.at(-1)).toBeLessThan(found[0]!);
  });

  it("has fewer looks before unsafe as the scatter grows", () => {
    const looks = [0, 0.02, 0.05, 0.1, 0.2].map((scatter) =>
      looksBeforeUnsafe(usableMarginMm(0.5, 0.9, scatter), 0.4 / 1000, 200),
    );
    expect(looks).toEqual([...looks].sort((a, b) => b - a));
    expect(looks.at(-1)).toBeLessThan(looks[0]!);
  });
});

describe("unsafeBeforeSeen at one fixed rate", () => {
  // n = ln(acceptable)/ln(1 − d): NAVAIR 00-25-403, as quoted in published slides; values recomputed.
  it.each([
    [1e-2, 0.7, 3.82497858],
    [1e-2, 0.8, 2.86135312],
    [1e-2, 0.9, 2],
    [1e-2, 0.95, 1.53724357],
    [1e-3, 0.8, 4.29202967],
    [1e-3, 0.9, 3],
    [1e-3, 0.95, 2.30586536],
    [1e-4, 0.9, 4],
    [1e-4, 0.95, 3.07448715],
  ])(
    "accepts %f at detection %f with the looks NAVAIR's n = %f asks for, and with one fewer not",
    (acceptable, d, n) => {
      expect(Math.log(acceptable) / Math.log(1 - d)).toBeCloseTo(n, 7);
      const needed = Math.ceil(n - 1e-9);
      // A margin of 0.3 mm worn at 1 mm per 1000 h lasts 300 h: so many looks fit at 300/needed hours.
      const risk = (looks: number) =>
        unsafeBeforeSeen((rate) => (rate < 0.001 ? 1 : 0), 0.3, 1, 300 / looks, d);
      if (needed > 4) {
        // Misses are not independent: more than four looks never count.
        expect(risk(needed)).toBeGreaterThan(acceptable);
        return;
      }
      expect(risk(needed)).toBeLessThanOrEqual(acceptable * (1 + 1e-9));
      expect(risk(needed - 1)).toBeGreaterThan(acceptable * (1 + 1e-9));
    },
  );
});
