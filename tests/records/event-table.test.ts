import { describe, expect, it } from "vitest";
import { aircraftNumbers } from "../../src/records/event-table.ts";

const of = (...aircraft: string[]) => {
  const { numbers, names } = aircraftNumbers(aircraft.map((name) => ({ aircraft: name })));
  return [[...numbers], names];
};

describe("aircraftNumbers(lives)", () => {
  it("numbers aircraft as they come", () => {
    expect(of("B", "A", "B")).toEqual([
      [0, 1, 0],
      ["B", "A"],
    ]);
  });

  it("takes lives without one, among others that have one, for those of one machine", () => {
    expect(of("", "A", "", "B")).toEqual([
      [0, 1, 0, 2],
      ["aircraft not recorded", "A", "B"],
    ]);
  });

  it("lets each stand alone where none has one", () => {
    expect(of("", "")).toEqual([[-1, -1], []]);
  });
});
