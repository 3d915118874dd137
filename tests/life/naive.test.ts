import { describe, expect, it } from "vitest";
import { naiveViews } from "../../src/life/naive.ts";
import { seededRandom } from "../../src/math/random.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { dataTable } from "./reference-data.ts";
import { simulatedLives } from "./simulated-lives.ts";

describe("naiveViews(table, options)", () => {
  it("late entry ignored: shape 14.61 for 8.83 in the retirement home (R optim), and a 10 % life too long", () => {
    const views = naiveViews(dataTable("retirement-home"));
    expect(views.map((view) => view.name)).toEqual(["late entry ignored"]);
    const [view] = views;
    expect(view!.fit).toMatchObject({ kind: "fitted", shape: expect.closeTo(14.60696694, 5) });
    expect(view!.lifeRatio!).toBeGreaterThan(1.1);
    expect(view!.sentence).toContain("too long");
  });

  it("turbine wheels: the hours of the look for the hours of the crack makes the 10 % life 66 % too long", () => {
    const view = naiveViews(dataTable("turbine-wheels")).find(
      (each) => each.name === "found at as failed at",
    )!;
    expect(view.sentence).toBe(
      "Taking the hours of the look that found it as the hours of the event makes the 10 % life 66 % too long (2767 h instead of 1663 h).",
    );
  });

  it("shows the direction of each error on lives whose truth is known", () => {
    const table = simulatedLives(
      {
        shape: 2.5,
        scaleHours: 2000,
        aircraft: 400,
        perAircraft: 1,
        alike: 0,
        lookHours: 800,
        followedHours: 3200,
      },
      seededRandom(9),
    );
    const hoursFlown = table.lowerHours.map((lower) => lower + 700);
    const views = naiveViews(table, { hoursFlown, fraction: 0.5 });
    const ratio = (name: string, of = views) => of.find((view) => view.name === name)!.lifeRatio!;
    expect(ratio("found at as failed at")).toBeGreaterThan(1.1);
    expect(ratio("hours after the last look counted")).toBeGreaterThan(1.05);
    // The middle of an interval is about right for the middle life; away from it they mislead.
    expect(Math.abs(ratio("midpoints as exact") - 1)).toBeLessThan(0.05);
    expect(ratio("midpoints as exact", naiveViews(table, { fraction: 0.01 }))).toBeLessThan(0.9);
    expect(views.map((view) => view.name)).not.toContain("late entry ignored");
  });

  it("has nothing to say where nothing was cut short", () => {
    expect(naiveViews(dataTable("ball-bearings"))).toEqual([]);
  });

  it("keeps quiet about a ratio where there is no fit", () => {
    const table = lifeTable([
      { lowerHours: 100, upperHours: 200 },
      { lowerHours: 300, upperHours: Number.POSITIVE_INFINITY },
    ]);
    for (const view of naiveViews(table)) expect(view).toMatchObject({ lifeRatio: null });
  });
});
