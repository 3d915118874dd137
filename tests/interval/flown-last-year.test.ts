import { describe, expect, it } from "vitest";
import { componentHoursPerYear, flownLastYear } from "../../src/interval/flown-last-year.ts";
import { makeLife } from "../records/make-life.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";

describe("componentHoursPerYear(flown, lives, group)", () => {
  const group = makeLife().group;
  const asOf = dayOfText("2024-12-31");

  it("is null without an export of hours flown", () => {
    expect(componentHoursPerYear(flownLastYear(makeExports({ looks: [] }), asOf), [], group)).toBeNull();
  });

  it("gives each fitted component its aircraft's hours there in the last twelve months (by hand)", () => {
    const exports = makeExports({ looks: [] });
    const month = (text: string) => dayOfText(`${text}-01`);
    // A1: 30 h sandy in December 2023 (too old), 40 and 50 h sandy in 2024, 60 h elsewhere; A2: 10 h sandy.
    const flying = {
      rows: 5,
      file: new Int32Array(5),
      line: new Int32Array(5),
      month: Int32Array.from(["2023-12", "2024-01", "2024-12", "2024-06", "2024-07"], month),
      aircraft: { codes: Int32Array.of(0, 0, 0, 0, 1), words: ["A1", "A2"] },
      environment: { codes: Int32Array.of(0, 0, 0, 1, 0), words: ["sandy", "temperate"] },
      hours: Float64Array.of(30, 40, 50, 60, 10),
    };
    const lives = [
      makeLife({ aircraft: "A1" }),
      makeLife({ aircraft: "A1", component: 1 }),
      makeLife({ aircraft: "A2", component: 2 }),
      makeLife({ aircraft: "A2", component: 3, end: "removed" }),
    ];
    const withFlying = { ...exports, flying } as unknown as typeof exports;
    expect(componentHoursPerYear(flownLastYear(withFlying, asOf), lives, group)).toBe(90 + 90 + 10);
  });

  it("counts every place alike where the export names none", () => {
    const exports = makeExports({ looks: [] });
    const flying = {
      rows: 2,
      file: new Int32Array(2),
      line: new Int32Array(2),
      month: Int32Array.from(["2024-01", "2024-12"], (text) => dayOfText(`${text}-01`)),
      aircraft: { codes: Int32Array.of(0, 0), words: ["A1"] },
      environment: { codes: Int32Array.of(-1, -1), words: [] },
      hours: Float64Array.of(40, 50),
    };
    const withFlying = { ...exports, flying } as unknown as typeof exports;
    const lives = [makeLife({ aircraft: "A1" }), makeLife({ aircraft: "A3", component: 1 })];
    expect(componentHoursPerYear(flownLastYear(withFlying, asOf), lives, group)).toBe(90);
  });
});
