/** Hours counted on the airframe, turned into a component's by the roster; worked by hand from the rows shown. */
import { describe, expect, it } from "vitest";
import { buildLives } from "../../src/records/lives.ts";
import { dayOfText, type ExportsInput, makeExports } from "../support/make-exports.ts";

function livesOf(input: ExportsInput) {
  const exports = makeExports(input);
  const { lives, exclusions } = buildLives(exports, {
    asOf: dayOfText("2024-12-31"),
    parts: [{ part: "grip bearing", replaceAtMm: 0.5 }],
    airframeClock: true,
    presentIntervalH: () => 300,
  });
  const serial = (component: number) => exports.components.serial[component]!;
  return {
    lives: lives.filter(({ component }) => serial(component) === "S"),
    reasons: exclusions.filter(({ component }) => serial(component) === "S").map(({ reason }) => reason),
  };
}

/** Makes the records begin in 2020, at about an hour a day. */
const BACKGROUND: ExportsInput = {
  fitted: [{ serial: "B", on: "2019-12-31", hours: 1000, aircraft: "A9" }],
  looks: [
    { serial: "B", on: "2020-01-01", hours: 1001, wear: 0.01, aircraft: "A9" },
    { serial: "B", on: "2020-10-27", hours: 1301, wear: 0.02, aircraft: "A9" },
  ],
};
const withBackground = (input: ExportsInput): ExportsInput => ({
  looks: [...BACKGROUND.looks!, ...(input.looks ?? [])],
  fitted: [...BACKGROUND.fitted!, ...(input.fitted ?? [])],
  removals: input.removals ?? [],
});

const FIRST = {
  fitted: [{ serial: "S", on: "2021-01-01", hours: 5000, aircraft: "A1" }],
  looks: [
    { serial: "S", on: "2021-10-28", hours: 5300, wear: 0.1, aircraft: "A1" },
    { serial: "S", on: "2022-08-24", hours: 5600, wear: 0.2, aircraft: "A1" },
  ],
} satisfies ExportsInput;
const REFITTED = { serial: "S", on: "2023-03-01", hours: 200, aircraft: "A2" };
const LATER = { serial: "S", on: "2023-12-26", hours: 500, wear: 0.35, aircraft: "A2" };
const removal = (mode: string) => ({ serial: "S", on: "2022-10-01", hours: 5640, mode, aircraft: "A1" });

describe("buildLives(exports, {airframeClock: true})", () => {
  it("counts from the fitting: 5300 h of an airframe that had 5000 h then are 300 h", () => {
    const { lives, reasons } = livesOf(withBackground(FIRST));
    expect(lives.map(({ readingHours, entryHours }) => [entryHours, ...readingHours])).toEqual([
      [0, 300, 600],
    ]);
    expect(reasons).toEqual([]);
  });

  it("adds what was flown before a removal that is no failure: 640 h, and 300 h more on another airframe", () => {
    const { lives, reasons } = livesOf(
      withBackground({
        fitted: [...FIRST.fitted, REFITTED],
        looks: [...FIRST.looks, LATER],
        removals: [removal("not a failure")],
      }),
    );
    expect(lives.map(({ life, readingHours }) => [life, ...readingHours])).toEqual([[1, 300, 600, 940]]);
    expect(reasons).toEqual([]);
  });

  it("begins the next life where it was taken off as failed", () => {
    const { lives } = livesOf(
      withBackground({
        fitted: [...FIRST.fitted, REFITTED],
        looks: [...FIRST.looks, LATER],
        removals: [removal("seal")],
      }),
    );
    expect(lives.map(({ life, entryHours, readingHours }) => [life, entryHours, ...readingHours])).toEqual([
      [1, 0, 300, 600],
      [2, 0, 300],
    ]);
  });

  it("takes a removal on the day of the next fitting for the end of the one before", () => {
    const { lives } = livesOf(
      withBackground({
        fitted: [...FIRST.fitted, { ...REFITTED, on: "2022-10-01" }],
        looks: [...FIRST.looks, LATER],
        removals: [removal("not a failure")],
      }),
    );
    expect(lives.map(({ readingHours }) => readingHours)).toEqual([[300, 600, 940]]);
  });

  it("leaves out, and says, what can't be converted: no removal ended the fitting before", () => {
    const { lives, reasons } = livesOf(
      withBackground({ fitted: [...FIRST.fitted, REFITTED], looks: [...FIRST.looks, LATER] }),
    );
    expect(lives.map(({ readingHours }) => readingHours)).toEqual([[300, 600]]);
    expect(reasons).toEqual([expect.stringContaining("can't be known")]);
  });

  it("leaves out, and says, a look on an aircraft that the roster doesn't have it on", () => {
    const elsewhere = { ...LATER, aircraft: "A7" };
    const { lives, reasons } = livesOf(withBackground({ ...FIRST, looks: [...FIRST.looks, elsewhere] }));
    expect(lives.map(({ readingHours }) => readingHours)).toEqual([[300, 600]]);
    expect(reasons).toEqual([expect.stringContaining("can't be known")]);
  });
});
