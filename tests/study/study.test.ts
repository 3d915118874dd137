import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { missingBy } from "../../src/interval/safeguards.ts";
import { STUDY } from "../../src/interval/study-result.ts";
import { missedTargets } from "../../src/interval/study-targets.ts";
import { idealLongest } from "./ideal.ts";
import { studyJobs } from "./jobs.ts";
import { drawFleet, KINDS, mayShowPower, RATIO_STEPS, ratioOf } from "./kinds.ts";
import type { StudyLine } from "./study-fleet.ts";
import { STUDY_MARK, studyMarkdown } from "./study-markdown.ts";
import { studyTable } from "./summary.ts";

const meta = { commit: "0123abc", date: "2026-11-25", seeds: "1 to 2", runs: 1 };

const line = (change: Partial<StudyLine>): StudyLine => ({
  ...drawFleet("gentle", 1),
  ...{
    forPower: false,
    months: 60,
    unsafeAt: true,
    longestH: 900,
    idealH: 900,
    components: 80,
    looks: 400,
    events: 5,
  },
  ...{ row: 7, answer: "keep", candidateH: 600, recommendedH: 600, failed: [], everExtended: null },
  ...{ bounds: { life: null, wear: 1.2, unsafe: 3 }, excessAtPresent: 0.4, excessExtended: null },
  ...change,
});

describe("studyTable(lines, meta)", () => {
  it("counts an extension past the longest acceptable interval as unsafe, and its kind's and all kinds' shares", () => {
    const extended = { answer: "extend", recommendedH: 800, excessExtended: 0.7 };
    const table = studyTable(
      [
        line(extended),
        line({ ...extended, longestH: 750, excessExtended: 1.3, components: 240 }),
        line({}),
        line({ ...extended, kind: "heaping" }),
        line({ ...extended, kind: "batch after the decision", longestH: 0, excessExtended: 9 }),
      ],
      meta,
    );
    const gentle = table.rows.find(({ kind }) => kind === "gentle")!;
    expect([gentle.fleets, gentle.unsafe.n, gentle.unsafe.of, gentle.unsafeWhereMany.n]).toEqual([
      3, 1, 2, 1,
    ]);
    // The batch that comes later stands in its own row only.
    expect([table.all.fleets, table.all.unsafe.n, table.all.unsafe.of]).toEqual([4, 1, 3]);
    expect(table.overshoot).toEqual({ p95: 1.3, largest: 1.3 });
    expect([table.power.n, table.power.of]).toEqual([2, 3]);
  });

  it("counts a risk of more than twice the acceptable one that was not shortened as missed", () => {
    const risky = { excessAtPresent: 2.1, longestH: 300 };
    const table = studyTable(
      [
        line(risky),
        line({ ...risky, answer: "shorten" }),
        line({ ...risky, components: 20, looks: 30 }),
        line({}),
      ],
      meta,
    );
    expect([table.all.missed.n, table.all.missed.of]).toEqual([1, 2]);
    expect([table.all.missedWhereFew.n, table.all.missedWhereFew.of]).toEqual([1, 1]);
  });

  it("counts a fleet that was extended at any of its reviews, and bounds under the truth", () => {
    const bounds = { life: null, wear: 0.9, unsafe: null };
    const table = studyTable(
      [line({ everExtended: { review: 2 }, bounds }), line({ everExtended: { review: null } }), line({})],
      meta,
    );
    expect([table.all.everExtended.n, table.all.everExtended.of]).toEqual([1, 2]);
    const { wearBoundUnder: wear, unsafeBoundUnder: unsafe } = table.all;
    expect([wear.n, wear.of, unsafe.of]).toEqual([1, 3, 2]);
  });
});

describe("missedTargets(table)", () => {
  const extended = { answer: "extend", recommendedH: 800, excessExtended: 0.7 };

  it("says that nothing was extended", () => {
    expect(missedTargets(studyTable([line({})], meta))).toContain("nothing was extended at all");
  });

  it("says which kind was extended unsafely more often than chance allows, and that overall", () => {
    const good = Array.from({ length: 40 }, () => line(extended));
    expect(missedTargets(studyTable(good, meta))).toEqual([]);
    const bad = Array.from({ length: 9 }, () => line({ ...extended, kind: "heaping", longestH: 600 }));
    expect(missedTargets(studyTable([...good, ...bad], meta))).toEqual([
      "unsafe extensions, all kinds: over 2 %",
      "unsafe extensions, heaping: over 5 %",
    ]);
  });

  it("says that shortenings were missed and that extensions were not given", () => {
    const risky = Array.from({ length: 20 }, () => line({ excessAtPresent: 3, longestH: 300 }));
    const kept = Array.from({ length: 60 }, () => line({}));
    expect(missedTargets(studyTable([line(extended), ...risky, ...kept], meta))).toEqual([
      "missed shortenings: over 10 %",
      "power: under 80 %",
    ]);
  });
});

describe("missingBy(study): no extension without a study that meets its targets", () => {
  it("asks for the study, and names the targets that one missed", () => {
    expect(missingBy(null)).toEqual(["the simulation study of how often an extension would be unsafe"]);
    expect(missingBy(studyTable([line({})], meta))).toContain(
      "a target of the simulation study was missed (nothing was extended at all)",
    );
    const extended = { answer: "extend", recommendedH: 800, excessExtended: 0.7 };
    expect(missingBy(studyTable([line(extended)], meta))).toEqual([]);
  });
});

describe("the study's fleets", () => {
  it("are the same for the same kind and seed, and of ratios from 0.5 to 3", () => {
    expect(drawFleet("heaping", 7)).toEqual(drawFleet("heaping", 7));
    expect(ratioOf(0)).toBeGreaterThan(0.5);
    expect(ratioOf(RATIO_STEPS - 1)).toBeLessThan(3);
    for (const kind of KINDS) {
      const { aircraft, months } = drawFleet(kind, 3);
      expect(aircraft).toBeGreaterThanOrEqual(8);
      expect(aircraft).toBeLessThanOrEqual(250);
      expect(months).toBeGreaterThanOrEqual(12);
      expect(months).toBeLessThanOrEqual(96);
    }
  });

  it("take further gentle fleets for power from those that may show it, whatever they would find", () => {
    const jobs = studyJobs({ from: 1, fleets: 2, power: 3 });
    expect(jobs).toHaveLength(2 * KINDS.length + 3);
    for (const { kind, seed } of jobs.filter(({ forPower }) => forPower)) {
      expect(kind).toBe("gentle");
      expect(seed).toBeGreaterThan(2);
      expect(mayShowPower(drawFleet(kind, seed))).toBe(true);
    }
  });

  it("could be extended the longer, the slower they wear", () => {
    const gentle = { truth: "plain", logSd: 0.3 } as const;
    const [slow, fast] = [0.03, 0.06].map((median) => idealLongest(gentle, median, 5000, null)!);
    expect(slow).toBeGreaterThan(fast!);
    // Hours count as rate times hours alone: half the rate, twice the interval, to a step of the grid.
    expect(slow! / fast!).toBeCloseTo(2, 0);
  });
});

describe("the study's table in the README", () => {
  it("is the one that the program ships", () => {
    const readme = readFileSync("README.md", "utf8");
    const from = readme.indexOf(STUDY_MARK.begin);
    const to = readme.indexOf(STUDY_MARK.end) + STUDY_MARK.end.length;
    expect(readme.slice(from, to)).toBe(studyMarkdown(STUDY));
  });
});
