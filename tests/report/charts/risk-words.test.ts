import { describe, expect, it } from "vitest";
import type { RiskInput } from "../../../src/report/charts/risk-chart.ts";
import { riskTitle } from "../../../src/report/charts/risk-words.ts";

const point = (intervalH: number, upper: number) => ({ intervalH, estimate: upper / 2, lower: null, upper });
const input: RiskInput = {
  name: "Unsafe before it is seen",
  finding: "of those that reach the limit turn unsafe unseen",
  lines: [{ name: "from wear readings", dash: [1, 0], points: [point(400, 0.00017), point(550, 0.000845)] }],
  acceptable: 0.001,
  intervalsH: [400, 550],
  presentH: 400,
  recommendedH: null,
  observedToH: 900,
  colour: "black",
};
const title = (recommendedH: number | null) =>
  riskTitle({ ...input, recommendedH }, "temperate, shielded").replaceAll("\u202f", " ");

describe("riskTitle(input, group)", () => {
  it("is about the interval that would be signed", () => {
    expect(title(null)).toBe(
      "Temperate, shielded: at the present 400 h up to 0.017 % of those that reach the limit turn unsafe unseen (acceptable 0.10 %)",
    );
    expect(title(550)).toBe(
      "Temperate, shielded: at the recommended 550 h up to 0.085 % of those that reach the limit turn unsafe unseen (acceptable 0.10 %)",
    );
  });
});
