import { describe, expect, it } from "vitest";
import { StageClock } from "../../src/run/stage-clock.ts";

function clockAt(...seconds: number[]) {
  const times = [...seconds];
  return new StageClock(() => new Date(1000 * times.shift()!));
}

describe("StageClock", () => {
  it("adds up each stage until the next one starts, in order of first start", () => {
    const clock = clockAt(10, 12.5, 13, 20, 21);
    clock.start("reading");
    clock.start("lives");
    clock.start("reading");
    clock.start("pages");
    expect(Object.entries(clock.seconds())).toEqual([
      ["reading", 9.5],
      ["lives", 0.5],
      ["pages", 1],
    ]);
  });

  it("counts the running stage once, however often it is asked", () => {
    const clock = clockAt(1, 2, 4);
    clock.start("reading");
    expect(clock.seconds()).toEqual({ reading: 1 });
    expect(clock.seconds()).toEqual({ reading: 3 });
  });

  it("doesn't count backwards where the clock is set back", () => {
    const clock = clockAt(5, 1);
    clock.start("reading");
    expect(clock.seconds()).toEqual({ reading: 0 });
  });
});
