import { describe, expect, it } from "vitest";
import { groupModes } from "../../src/interval/group-modes.ts";
import { makeLife } from "../records/make-life.ts";

const removed = (hours: number, mode: string) =>
  makeLife({
    readingHours: [hours],
    lastHours: hours,
    end: "removed",
    removal: { mode, inService: true, noFaultFound: false },
  });
const over = (hours: number) =>
  makeLife({
    readingHours: [hours],
    lowerHours: 0,
    upperHours: hours,
    lastHours: hours,
    end: "over limit found",
  });

describe("groupModes(lives, greatestAgeH, confidence)", () => {
  /** Found over at 100 and 300 h, a seal at 200 h, one life good at 400 h. */
  const four = [over(100), removed(200, "seal"), over(300), makeLife({ readingHours: [400] })];

  it("lets modes compete, and shows what each alone would have said (by hand)", () => {
    const { modes, atHours } = groupModes(four, 0, 0.95);
    expect(atHours).toBe(300);
    // Over: 1/4 at 100; 1/2 x 1/2 at 300 with the seal gone. Seal: 3/4 x 1/3.
    expect(modes.map(({ mode, events, chance }) => [mode, events, chance.estimate])).toEqual([
      ["over the limit", 2, expect.closeTo(1 / 4 + 1 / 4, 12)],
      ["seal", 1, expect.closeTo(1 / 4, 12)],
    ]);
    // Alone, one minus the product limit: 1 - 3/4 x 1/2; and 1/3.
    expect(modes.map(({ chanceAlone }) => chanceAlone)).toEqual([
      expect.closeTo(5 / 8, 12),
      expect.closeTo(1 / 3, 12),
    ]);
  });

  it("states chances where enough are at risk, whatever happens to the last one beyond", () => {
    const { modes, atHours, givenHours } = groupModes([...four, over(5000)], 250, 0.95);
    expect([atHours, givenHours]).toEqual([250, 0]);
    expect(modes[0]).toMatchObject({ events: 3, chance: { estimate: expect.closeTo(1 / 5, 12) } });
  });

  it("draws each chance from its first event on, with bounds around it, and thins what can't be told apart", () => {
    const [overLimit, seal] = groupModes(four, 0, 0.95).modes;
    expect(overLimit!.curve.map(({ hours, chance }) => [hours, chance])).toEqual([
      [100, expect.closeTo(1 / 4, 12)],
      [200, expect.closeTo(1 / 4, 12)],
      [300, expect.closeTo(1 / 2, 12)],
    ]);
    expect(seal!.curve.map(({ hours }) => hours)).toEqual([200, 300]);
    for (const { lower, chance, upper } of overLimit!.curve) {
      expect(lower!).toBeLessThan(chance);
      expect(upper!).toBeGreaterThan(chance);
    }
    const many = groupModes(
      Array.from({ length: 500 }, (_, k) => over(100 + k)),
      550,
      0.95,
    ).modes[0]!;
    expect(many.curve.length).toBeLessThanOrEqual(120);
    expect(many.curve.at(-1)).toMatchObject({ hours: 550, chance: many.chance.estimate });
  });

  it("says why a mode has no fit", () => {
    const seal = groupModes(four, 0, 0.95).modes[1]!;
    expect(seal).toMatchObject({ shape: null, tenPercentHours: null, why: expect.stringContaining("event") });
  });

  it("has no modes where nothing came off for a cause", () => {
    expect(groupModes([makeLife({ readingHours: [400] })], 0, 0.95).modes).toEqual([]);
  });
});
