import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { modelledLives } from "../../src/interval/modelled-lives.ts";
import { makeLife } from "../records/make-life.ts";

/** Three components on each of six aircraft, in the order of their numbers. */
const lives = Array.from({ length: 18 }, (_, component) =>
  makeLife({ component, aircraft: `A${1 + Math.floor(component / 3)}` }),
);
const serials = lives.map((_, k) => `S${k}`);
const aircraftOf = (some: readonly { aircraft: string }[]) => [
  ...new Set(some.map(({ aircraft }) => aircraft)),
];

describe("modelledLives(lives, serials, most)", () => {
  it("gives the very lives where there are no more components than that", () => {
    expect(modelledLives(lives, serials, 18)).toBe(lives);
  });

  // `printf %s A1 | sha256sum` begins 16a36e86, A2 c8361f9b, A3 1398b376, A4 4e808094, A5 ea644b35, A6 d94791a8.
  it("takes whole aircraft in the order of the hashes of their names, until there are enough", () => {
    expect(aircraftOf(modelledLives(lives, serials, 3))).toEqual(["A3"]);
    expect(aircraftOf(modelledLives(lives, serials, 4))).toEqual(["A1", "A3"]);
    expect(aircraftOf(modelledLives(lives, serials, 9))).toEqual(["A1", "A3", "A4"]);
    expect(modelledLives(lives, serials, 4)).toEqual(lives.filter(({ aircraft }) => /A[13]/.test(aircraft)));
  });

  it("keeps a component's lives together, with its first aircraft", () => {
    const moved = [...lives, makeLife({ component: 6, aircraft: "A5", life: 2 })];
    const taken = modelledLives(moved, serials, 3);
    expect(taken.filter(({ component }) => component === 6)).toHaveLength(2);
    expect(taken.every(({ component }) => component >= 6 && component <= 8)).toBe(true);
  });

  it("takes a component without an aircraft for itself", () => {
    const alone = lives.map((life) => ({ ...life, aircraft: "" }));
    expect(modelledLives(alone, serials, 5)).toHaveLength(5);
  });

  it("never asks how a component wore, nor in what order the lives come", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 18 }),
        fc.array(fc.double(), { minLength: 18, maxLength: 18 }),
        (most, wear) => {
          const worn = lives.map((life, k) => ({ ...life, readingWearMm: [wear[k]!], upperHours: wear[k]! }));
          const components = (some: readonly { component: number }[]) =>
            some.map(({ component }) => component);
          const expected = components(modelledLives(lives, serials, most));
          expect(components(modelledLives(worn, serials, most))).toEqual(expected);
          expect(components(modelledLives([...lives].reverse(), serials, most))).toEqual(expected.reverse());
        },
      ),
      { numRuns: 30 },
    );
  });
});
