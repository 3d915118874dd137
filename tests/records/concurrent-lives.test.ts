import { describe, expect, it } from "vitest";
import { type ConcurrentLife, concurrentLives } from "../../src/records/concurrent-lives.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "./make-life.ts";

/** Looks at 300, 600, 900 h on days 100, 200, 300. */
const looked = (over: Partial<Life> = {}): Life =>
  makeLife({
    readingHours: [300, 600, 900],
    readingDays: [100, 200, 300],
    lookDays: [100, 200, 300],
    firstDay: 100,
    lastDay: 300,
    ...over,
  });
const found = looked({ lowerHours: 600, upperHours: 900, end: "over limit found", eventDay: 300 });
const hoursOf = (lives: readonly ConcurrentLife[]) =>
  lives.map(({ entryHours, lowerHours, upperHours }) => [entryHours, lowerHours, upperHours]);
const RUNNING = Number.POSITIVE_INFINITY;

describe("concurrentLives(lives, fromDay, toDay)", () => {
  it("keeps a life that lies within as it is", () => {
    expect(hoursOf(concurrentLives([found], 50, 400))).toEqual([[0, 600, 900]]);
  });

  it("a life under way when the window opens enters at its last look before", () => {
    //  day 100        | window from 150      200        300
    //  0 ── 300 ──────|─────────────────── 600 ════ 900 (over)
    expect(hoursOf(concurrentLives([found], 150, 400))).toEqual([[300, 600, 900]]);
  });

  it("a life that goes on after is good at its last look until then; an event after it has not happened yet", () => {
    //  0 ── 300 ── 600 | window to 250 | ════ 900 (over)
    expect(hoursOf(concurrentLives([found], 50, 250))).toEqual([[0, 600, RUNNING]]);
    expect(concurrentLives([found], 50, 250)[0]).toMatchObject({
      end: "still fitted",
      removal: null,
      lastHours: 600,
    });
  });

  it("leaves out lives over before, begun after, or with no look in between", () => {
    expect(concurrentLives([found], 301, 400)).toEqual([]);
    expect(concurrentLives([found], 10, 50)).toEqual([]);
    expect(concurrentLives([looked()], 210, 290)).toEqual([]);
  });

  it("an early removal whose last good look was before the window starts from it", () => {
    //  0 ── 300 ── 600 (day 200) | window from 250 | removed at 600 on day 260, its event since 300
    const early = looked({
      lowerHours: 300,
      upperHours: 600,
      end: "early removal",
      eventDay: 260,
      lastDay: 260,
    });
    expect(hoursOf(concurrentLives([early], 250, 400))).toEqual([[600, 600, 600]]);
  });
});
