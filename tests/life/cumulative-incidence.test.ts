import { describe, expect, it } from "vitest";
import { cumulativeIncidence, type ModeLife } from "../../src/life/cumulative-incidence.ts";
import { survivalCurve } from "../../src/life/survival-curve.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { dataText, reference } from "./reference-data.ts";

describe("cumulativeIncidence(lives)", () => {
  const lives: ModeLife[] = dataText("mgus2")
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => {
      const [months, event] = line.split(",");
      const mode = event === "0" ? null : event === "1" ? "pcm" : "death";
      // Events at 0 months: just after.
      return { entryHours: -1, hours: Number(months), mode };
    });

  it("is R survfit's of mgus2 at 60 to 300 months (reference/life.json; the package's vignette on competing risks)", () => {
    const { modes, steps } = cumulativeIncidence(lives);
    const [pcm, death] = [modes.indexOf("pcm"), modes.indexOf("death")];
    for (const [i, months] of reference.incidence.months.entries()) {
      const step = steps.findLast((each) => each.hours <= months)!;
      expect(step.survival).toBeCloseTo(reference.incidence.survival[i]!, 10);
      expect(step.incidence[pcm]!).toBeCloseTo(reference.incidence.pcm[i]!, 10);
      expect(step.incidence[death]!).toBeCloseTo(reference.incidence.death[i]!, 10);
    }
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
    const { modes, steps } = cumulativeIncidence(lives);
    const rows = lives.map(({ hours, mode }) => {
      const at = hours + 0.5;
      return { lowerHours: at, upperHours: mode === "pcm" ? at : Number.POSITIVE_INFINITY };
    });
    const alone = survivalCurve(lifeTable(rows));
    if (alone.kind === "none") throw new Error(alone.why);
    const naive = 1 - alone.points.at(-1)!.survival;
    expect(naive).toBeGreaterThan(2 * steps.at(-1)!.incidence[modes.indexOf("pcm")]!);
  });
});
