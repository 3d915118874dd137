import { describe, expect, it } from "vitest";
import { goBackNumber, goBackStage, goBackState } from "../../src/interval/go-back.ts";

describe("goBackNumber(looks, promisedShare, confidence)", () => {
  // R 4.2.2: for (n in c(20,40,60)) for (p in c(0.01,0.035,0.1)) qbinom(0.95, n, p) + 1
  it.each([
    [20, 0.01, 2],
    [20, 0.035, 3],
    [20, 0.1, 5],
    [40, 0.01, 3],
    [40, 0.035, 5],
    [40, 0.1, 8],
    [60, 0.01, 3],
    [60, 0.035, 6],
    [60, 0.1, 11],
  ])("of %i looks at a share of %f is %i, as R's qbinom + 1", (looks, share, count) => {
    expect(goBackNumber(looks, share, 0.95)).toBe(count);
  });

  it("is more than the looks where no count would be that rare", () => {
    expect(goBackNumber(2, 0.5, 0.95)).toBe(3);
    expect(goBackNumber(0, 0.1, 0.95)).toBe(1);
  });

  it("is one find where none was promised", () => {
    expect(goBackNumber(60, 0, 0.95)).toBe(1);
  });
});

describe("goBackStage(stage, firstLooks, promisedShare, confidence)", () => {
  // R 4.2.2: qbinom(1 - 0.05 / 2^j, 60 * 2^(j - 1), p) + 1
  it.each([
    [0.03, [6, 9, 16]],
    [0.1, [12, 21, 37]],
  ])("spends half the false alarms left on twice as many looks: promised %f gives %j", (share, finds) => {
    const stages = [1, 2, 3].map((stage) => goBackStage(stage, 60, share, 0.95));
    expect(stages.map((stage) => stage.finds)).toEqual(finds);
    expect(stages.map(({ looks }) => looks)).toEqual([60, 120, 240]);
    expect(stages[1]!.falseAlarm).toBeCloseTo(0.0125, 12);
  });
});

/** Chance that a change whose share is exactly as promised is ever called back in so many looks, look by look. */
function everReached(looks: number, share: number): number {
  let number = 1;
  let stage = goBackStage(1, 60, share, 0.95);
  let chances = new Map([[0, 1]]);
  let reached = 0;
  for (let look = 0; look < looks; look++) {
    if (look >= stage.looks) stage = goBackStage(++number, 60, share, 0.95);
    const next = new Map<number, number>();
    for (const [finds, chance] of chances) {
      next.set(finds, (next.get(finds) ?? 0) + chance * (1 - share));
      if (finds + 1 >= stage.finds) reached += chance * share;
      else next.set(finds + 1, (next.get(finds + 1) ?? 0) + chance * share);
    }
    chances = next;
  }
  return reached;
}

describe("goBackState(overLimit, firstLooks, promisedShare, confidence)", () => {
  it("keeps the chance of ever calling back a change that is as promised within 5 %, summed exactly over 960 looks", () => {
    for (const share of [0.01, 0.03, 0.1, 0.3]) {
      expect(everReached(960, share)).toBeLessThanOrEqual(0.05);
      expect(everReached(960, share)).toBeGreaterThan(0.005);
    }
  });

  const looks = (count: number, ...found: number[]) =>
    Array.from({ length: count }, (_, i) => found.includes(i));

  it("is reached at the sixth find in the first 60 looks at a promised 3 %, not at the fifth", () => {
    expect(goBackState(looks(30, 1, 5, 9, 13, 29), 60, 0.03, 0.95).reachedAt).toBeNull();
    expect(goBackState(looks(30, 1, 5, 9, 13, 20, 29), 60, 0.03, 0.95)).toMatchObject({
      looks: 30,
      finds: 6,
      reachedAt: 29,
      stage: { looks: 60, finds: 6 },
    });
  });

  it("stays reached however many good looks follow", () => {
    expect(goBackState(looks(500, 1, 5, 9, 13, 20, 29), 60, 0.03, 0.95)).toMatchObject({
      reachedAt: 29,
      stage: { looks: 60 },
    });
  });

  it("goes on to the next stage when the first is through: from look 61 nine finds in 120", () => {
    expect(goBackState(looks(60, 1, 2), 60, 0.03, 0.95).stage).toMatchObject({ looks: 120, finds: 9 });
    const eight = [1, 2, 61, 62, 63, 64, 65, 66];
    expect(goBackState(looks(67, ...eight), 60, 0.03, 0.95).reachedAt).toBeNull();
    expect(goBackState(looks(68, ...eight, 67), 60, 0.03, 0.95).reachedAt).toBe(67);
  });
});
