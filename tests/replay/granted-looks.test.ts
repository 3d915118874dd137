import { describe, expect, it } from "vitest";
import type { Life } from "../../src/records/life.ts";
import { type GrantedQuestion, grantedLooks, looksOf } from "../../src/replay/granted-looks.ts";
import { makeLife } from "../records/make-life.ts";

/** Limit 0.5 mm, unsafe 0.8 mm; looks at 500 h spacing from day 100 on, the record ends on day 400; an hour a third of a day. */
const question = (lives: readonly Life[], over: Partial<GrantedQuestion> = {}): GrantedQuestion => ({
  lives,
  from: 100,
  until: 400,
  spacingH: 500,
  replaceAtMm: 0.5,
  unsafeAtMm: 0.8,
  beyondLimitFactor: 1.5,
  confidence: 0.95,
  ...over,
});
const outcomes = (life: Life, over: Partial<GrantedQuestion> = {}) =>
  looksOf(life, question([life], over), 3).map((outcome) =>
    "wearMm" in outcome && outcome.wearMm !== null
      ? [outcome.kind, Number(outcome.wearMm.toFixed(6))]
      : [outcome.kind],
  );

/** Looked at at 300 h on day 100, then every 300 h, 100 days apart. */
const looked = (wearMm: readonly number[], over: Partial<Life> = {}): Life =>
  makeLife({ readingHours: wearMm.map((_, i) => 300 * (i + 1)), readingWearMm: wearMm, ...over });
const foundOver = { end: "over limit found" as const };

describe("looksOf(life, question, groupHPerDay)", () => {
  it("is below where a later look was good", () => {
    expect(outcomes(looked([0.1, 0.2, 0.3, 0.4]))).toEqual([["below"]]);
  });

  it("reads the wear off the line between the good look and the find", () => {
    // Next look at 800 h: between 0.3 at 600 h and 0.66 at 900 h the line is at 0.54.
    const life = looked([0.1, 0.3, 0.66], { ...foundOver, lowerHours: 600, upperHours: 900, eventDay: 300 });
    expect(outcomes(life)).toEqual([["over", 0.54]]);
    // Between 0.3 and 0.54 it is at 0.46: good, and the next look, at 1300 h, would come after the record's end.
    const slower = looked([0.1, 0.3, 0.54], {
      ...foundOver,
      lowerHours: 600,
      upperHours: 900,
      eventDay: 300,
    });
    expect(outcomes(slower)).toEqual([["below"]]);
    expect(outcomes(slower, { until: 500 })).toEqual([["below"], ["over", expect.any(Number)]]);
  });

  it("stays over past the find, at the component's own pace times the factor", () => {
    // Found at 0.6 at 600 h; 0.4 mm in 300 h. At 800 h: 0.6 + 1.5 · 0.4 · 200/300.
    const life = looked([0.2, 0.6], { ...foundOver, lowerHours: 300, upperHours: 600, eventDay: 200 });
    expect(outcomes(life)).toEqual([["over", 1]]);
    expect(grantedLooks(question([life]))).toMatchObject({ over: 1, pastUnsafe: 1 });
    expect(grantedLooks(question([life], { unsafeAtMm: null })).pastUnsafe).toBeNull();
  });

  it("carries a component still fitted on along its own line, where the look has come due", () => {
    // Two readings: 0.2 at 300 h and 0.35 at 600 h reach 0.45 at 800 h, on day 267.
    expect(outcomes(looked([0.2, 0.35]))).toEqual([["below carried on"]]);
    // 0.2 and 0.42 reach 0.5667: over by 0.0667, times 1.5.
    expect(outcomes(looked([0.2, 0.42]))).toEqual([["over carried on", 0.6]]);
    expect(outcomes(looked([0.2, 0.42]), { until: 250 })).toEqual([]);
  });

  it("makes no look of a component that left before it, and none of one over on the day", () => {
    expect(outcomes(looked([0.1, 0.2], { end: "removed", lastHours: 700 }))).toEqual([["left before"]]);
    expect(outcomes(looked([0.1, 0.2], { end: "removed", lastHours: 850 }))).toEqual([["below carried on"]]);
    expect(outcomes(looked([0.1, 0.2], { end: "moved" }))).toEqual([["left before"]]);
    expect(outcomes(looked([0.6], { ...foundOver, upperHours: 300, eventDay: 100 }))).toEqual([]);
  });

  it("tells a failure in service before the look from one that nobody can place", () => {
    const failed = (hours: number) =>
      looked([0.1, 0.2], {
        end: "functional failure",
        lowerHours: 600,
        upperHours: hours,
        lastHours: hours,
        lastDay: 260,
        eventDay: 260,
      });
    expect(outcomes(failed(780))).toEqual([["failed before"]]);
    expect(outcomes(failed(850))).toEqual([["not known"]]);
  });

  it("can't say where the readings are words", () => {
    const words = looked([], {
      lookHours: [300, 600, 900],
      lookDays: [100, 200, 300],
      ...foundOver,
      lowerHours: 600,
      upperHours: 900,
      eventDay: 300,
      lastDay: 300,
    });
    expect(outcomes(words)).toEqual([["not known"]]);
  });

  it("begins a component fitted later at its own start", () => {
    const later = looked([0.3, 0.45], { lookDays: [200, 300], firstDay: 200, lastDay: 300 });
    // First look at 500 h, between 300 and 600 h; the next at 1000 h isn't due by day 400.
    expect(outcomes(later)).toEqual([["below"]]);
  });
});

describe("grantedLooks(question)", () => {
  it("counts looks due by the record's end alike, whether found over or still good", () => {
    const over = looked([0.2, 0.6], { ...foundOver, lowerHours: 300, upperHours: 600, eventDay: 200 });
    const good = looked([0.1, 0.15]);
    // At 800 h both come due on day 267: up to day 250 neither counts, though one is known to be over.
    expect(grantedLooks(question([over, good], { until: 250 })).share).toBeNull();
    const counts = grantedLooks(question([over, good]));
    expect(counts).toMatchObject({ over: 1, belowCarriedOn: 1, below: 0, notKnown: 0 });
    expect(counts.share!.estimate).toBe(0.5);
  });
});
