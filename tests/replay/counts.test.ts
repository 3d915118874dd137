import { describe, expect, it } from "vitest";
import type { Lines } from "../../src/interval/evidence.ts";
import type { SurvivalLine } from "../../src/interval/lines.ts";
import { eventsBetween, laterLooks } from "../../src/replay/later-looks.ts";
import { predictedCounts } from "../../src/replay/predicted-counts.ts";
import { monthlyCounts, totalsOf } from "../../src/replay/totals.ts";
import { watchCalibration } from "../../src/replay/watch-calibration.ts";
import { makeLife } from "../records/make-life.ts";

const group = { part: "grip bearing", environment: "sandy", standard: "plain" };

/** Looks at 300, 600 and 900 h on days 100, 200 and 300, the last of them over the limit. */
const worn = makeLife({
  readingHours: [300, 600, 900],
  readingWearMm: [0.2, 0.4, 0.6],
  lookDays: [100, 200, 300],
  lowerHours: 600,
  upperHours: 900,
  end: "over limit found",
  eventDay: 300,
});
/** Good at 400 and 800 h, and taken off at the second look for what counts as over limit. */
const takenOff = makeLife({
  component: 1,
  readingHours: [400, 800],
  lookDays: [150, 250],
  lowerHours: 400,
  upperHours: 800,
  end: "early removal",
  eventDay: 250,
});
/** Came here at 500 h, good at 700 h, failed at 850 h between looks. */
const moved = makeLife({
  component: 2,
  piece: 2,
  entryHours: 500,
  lateEntry: true,
  readingHours: [700],
  lookDays: [180],
  lowerHours: 700,
  upperHours: 850,
  end: "functional failure",
  eventDay: 260,
});
const lives = [worn, takenOff, moved];

describe("laterLooks(lives, after, until)", () => {
  it("has the looks after the day, each with the good look before it and what it found", () => {
    const looks = laterLooks(lives, 100, 300).map(({ beforeHours, hours, over, removedEarly }) => [
      beforeHours,
      hours,
      over,
      removedEarly,
    ]);
    expect(looks).toEqual([
      [300, 600, false, false],
      [600, 900, true, false],
      [0, 400, false, false],
      [400, 800, false, true],
      [500, 700, false, false],
    ]);
    expect(laterLooks(lives, 100, 250)).toHaveLength(4);
    expect(laterLooks(lives, 300, 900)).toEqual([]);
  });

  it("leaves to eventsBetween what no look had a part in", () => {
    expect(eventsBetween(lives, 100, 300)).toBe(1);
    expect(eventsBetween(lives, 260, 300)).toBe(0);
  });
});

/** S(h) = exp(−h/1000), so that a look 300 h after a good one finds 1 − e^−0.3. */
const line = (method: "life" | "wear", factor = 1): SurvivalLine => ({
  method,
  standsOn: "a curve given by hand",
  estimated: (quantity) => quantity((hours) => Math.exp((-factor * hours) / 1000)),
  bounded: (quantity) => ({
    estimate: quantity((hours) => Math.exp((-factor * hours) / 1000)),
    lower: quantity((hours) => Math.exp((-factor * hours) / 2000)),
    upper: quantity((hours) => Math.exp((-factor * hours) / 500)),
  }),
});
const linesOf = (life: SurvivalLine | null, wear: SurvivalLine | null): Lines =>
  ({
    life: life === null ? { kind: "none", why: "" } : { kind: "line", line: life },
    wear: wear === null ? { kind: "none", why: "" } : { kind: "line", line: wear },
  }) as unknown as Lines;

const chance = (hours: number) => 1 - Math.exp(-hours / 1000);
const byHand = chance(300) + chance(300) + chance(400) + chance(400) + chance(200);

describe("predictedCounts(lines, looks)", () => {
  const looks = laterLooks(lives, 100, 300);
  const counts = predictedCounts(linesOf(line("life"), line("wear")), looks);

  it("adds up the chances by hand, with the line's own bounds", () => {
    const [life] = counts;
    expect(life!.record.looks).toBe(5);
    expect(life!.record.predicted.estimate).toBeCloseTo(byHand, 12);
    const atRate = (rate: number) =>
      [300, 300, 400, 400, 200].reduce((sum, hours) => sum + 1 - Math.exp(-hours * rate), 0);
    expect(life!.record.predicted.lower).toBeCloseTo(atRate(1 / 2000), 12);
    expect(life!.record.predicted.upper).toBeCloseTo(atRate(1 / 500), 12);
  });

  it("counts early removals as found from lives, not from wear, and moved pieces only from lives", () => {
    expect(counts.map(({ record }) => [record.method, record.looks, record.found])).toEqual([
      ["life", 5, 2],
      ["wear", 4, 1],
    ]);
  });

  it("is silent without a line or a look", () => {
    expect(predictedCounts(linesOf(null, null), looks)).toEqual([]);
    expect(predictedCounts(linesOf(line("life"), null), [])).toEqual([]);
  });

  it("takes the worst of a line's fits, as decisions do", () => {
    const twoFits: SurvivalLine = {
      ...line("life"),
      estimated: (quantity) =>
        Math.max(line("life").estimated(quantity), line("life", 3).estimated(quantity)),
    };
    const [worst] = predictedCounts(linesOf(twoFits, null), looks);
    expect(worst!.record.predicted.estimate).toBeCloseTo(
      [300, 300, 400, 400, 200].reduce((sum, hours) => sum + chance(3 * hours), 0),
      12,
    );
  });

  it("has totals that hold each look once, by group and by month", () => {
    const stretches = counts.map((count) => ({ group, count }));
    const totals = totalsOf(stretches);
    expect(totals.map((total) => [total.group === null, total.method, total.looks, total.found])).toEqual([
      [true, "life", 5, 2],
      [true, "wear", 4, 1],
      [false, "life", 5, 2],
      [false, "wear", 4, 1],
    ]);
    expect(totals[0]!.predicted).toBeCloseTo(byHand, 12);
    const months = monthlyCounts(stretches).filter(({ method }) => method === "life");
    expect(months.reduce((sum, { looks: n }) => sum + n, 0)).toBe(5);
    expect(months.reduce((sum, { found }) => sum + found, 0)).toBe(2);
    expect(months.map(({ month }) => month)).toEqual([...months.map(({ month }) => month)].sort());
  });
});

describe("watchCalibration(given, confidence)", () => {
  it("counts by bands that begin at their lower level; bounds are Clopper–Pearson's", () => {
    const given = [
      ...Array.from({ length: 20 }, (_, i) => ({ chance: 0.2, over: i < 4 })),
      { chance: 0, over: false },
      { chance: 0.02, over: false },
      { chance: 1, over: true },
    ];
    const calibration = watchCalibration(given, 0.95)!;
    expect(calibration.looks).toBe(23);
    expect(calibration.given).toBeCloseTo(5.02, 12);
    expect(calibration.over).toBe(5);
    expect(calibration.bands.map(({ looks, over }) => [looks, over])).toEqual([
      [1, 0],
      [1, 0],
      [0, 0],
      [20, 4],
      [1, 1],
    ]);
    // 4 of 20: R's binom.test(4, 20)$conf.int is 0.0573 to 0.4366 (from memory, and tests/math/exact-bounds.test.ts).
    expect(calibration.bands[3]!.share!.lower).toBeCloseTo(0.0573, 4);
    expect(calibration.bands[3]!.share!.upper).toBeCloseTo(0.4366, 4);
    expect(calibration.bands[2]!.share).toBeNull();
  });

  it("is null without a look", () => {
    expect(watchCalibration([], 0.95)).toBeNull();
  });
});
