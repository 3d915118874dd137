import { describe, expect, it } from "vitest";
import { cumulativeIncidence, incidenceBounds } from "../../src/life/cumulative-incidence.ts";
import { survivalCurve } from "../../src/life/survival-curve.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { reference } from "./reference-data.ts";
import { incidenceLives } from "./reference-designs.ts";

describe("cumulativeIncidence(lives)", () => {
  const lives = incidenceLives();

  it("is R survfit's of mgus2 at 60 to 300 months (reference/life.json; the package's vignette on competing risks)", () => {
    const { modes, steps } = cumulativeIncidence(lives);
    const [pcm, death] = [modes.indexOf("pcm"), modes.indexOf("death")];
    for (const [i, months] of reference.incidence.months.entries()) {
      const step = steps.findLast((each) => each.hours <= months)!;
      expect(step.survival).toBeCloseTo(reference.incidence.survival[i]!, 10);
      for (const [m, theirs] of [
        [pcm, reference.incidence.pcm],
        [death, reference.incidence.death],
      ] as const) {
        expect(step.incidence[m]!).toBeCloseTo(theirs.chance[i]!, 10);
        expect(step.standardError[m]!).toBeCloseTo(theirs.standardError[i]!, 10);
        const bounds = incidenceBounds(step.incidence[m]!, step.standardError[m]!, 0.95);
        expect(bounds.lower!).toBeCloseTo(theirs.lower[i]!, 10);
        expect(bounds.upper!).toBeCloseTo(theirs.upper[i]!, 10);
      }
    }
  });

  it("with one mode and no running life is a share, with the binomial standard error", () => {
    const five = [10, 20, 30, 40, 50].map((hours) => ({ entryHours: 0, hours, mode: "wear" }));
    const step = cumulativeIncidence(five).steps[1]!;
    expect(step.incidence).toEqual([expect.closeTo(0.4, 12)]);
    expect(step.standardError[0]).toBeCloseTo(Math.sqrt((0.4 * 0.6) / 5), 12);
    // Nobody left: no scatter, no bounds.
    const last = cumulativeIncidence(five).steps.at(-1)!;
    expect(incidenceBounds(last.incidence[0]!, last.standardError[0]!, 0.95)).toEqual({
      lower: null,
      upper: null,
    });
  });

  it("by hand with late entry: seal of one of two at 10, wear of one of three at 20", () => {
    const { steps } = cumulativeIncidence([
      { entryHours: 0, hours: 10, mode: "seal" },
      { entryHours: 0, hours: 30, mode: null },
      { entryHours: 15, hours: 20, mode: "wear" },
      { entryHours: 15, hours: 30, mode: null },
    ]);
    // Wear: 1/2 x 1/3. Its hazard scatters by 1/3 x 2/3 / 3 over survival 1/2; the seal's by 1/4 / 2 over 1/6 / (1/2).
    const variance = 0.25 * (2 / 27) + (1 / 8) * (1 / 3) ** 2;
    expect(steps[1]!.incidence[1]).toBeCloseTo(1 / 6, 12);
    expect(steps[1]!.standardError[1]).toBeCloseTo(Math.sqrt(variance), 12);
  });

  it("by hand: seal at 10, wear at 20, seal at 30, one running at 25 of five", () => {
    const { modes, steps } = cumulativeIncidence([
      { entryHours: 0, hours: 10, mode: "seal" },
      { entryHours: 0, hours: 20, mode: "wear" },
      { entryHours: 0, hours: 25, mode: null },
      { entryHours: 0, hours: 30, mode: "seal" },
      { entryHours: 0, hours: 40, mode: null },
    ]);
    expect(modes).toEqual(["seal", "wear"]);
    // 1/5; then 4/5 x 1/4; then 3/5 x 1/2.
    expect(steps.map((step) => step.incidence[0])).toEqual([0.2, 0.2, expect.closeTo(0.5, 12)]);
    expect(steps.map((step) => step.incidence[1])).toEqual([
      0,
      expect.closeTo(0.2, 12),
      expect.closeTo(0.2, 12),
    ]);
    for (const step of steps) {
      expect(step.survival + step.incidence[0]! + step.incidence[1]!).toBeCloseTo(1, 12);
    }
  });

  it("one minus Kaplan-Meier of one mode alone overstates it", () => {
    const { modes, steps, alone: chances } = cumulativeIncidence(lives);
    const rows = lives.map(({ hours, mode }) => {
      const at = hours + 0.5;
      return { lowerHours: at, upperHours: mode === "pcm" ? at : Number.POSITIVE_INFINITY };
    });
    const alone = survivalCurve(lifeTable(rows));
    if (alone.kind === "none") throw new Error(alone.why);
    const naive = 1 - alone.points.at(-1)!.survival;
    expect(chances[modes.indexOf("pcm")]!).toBeCloseTo(naive, 10);
    expect(naive).toBeGreaterThan(2 * steps.at(-1)!.incidence[modes.indexOf("pcm")]!);
  });
});
