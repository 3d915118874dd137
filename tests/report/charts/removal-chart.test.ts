import { describe, expect, it } from "vitest";
import { type RemovalRow, removalSpec } from "../../../src/report/charts/removal-chart.ts";
import { environmentStyles, styleOf } from "../../../src/report/charts/theme.ts";
import { layersOf } from "./every-chart.ts";

const months = Array.from(
  { length: 24 },
  (_, k) => `20${24 + Math.floor(k / 12)}-${String(1 + (k % 12)).padStart(2, "0")}`,
);
const style = styleOf(environmentStyles(["sandy"]), "sandy");

/** Where the words "alert level" stand, with alert levels from the seventh month on and these months over. */
function namedAt(overAt: readonly number[]): string | undefined {
  const rows = months.map(
    (month, k): RemovalRow => ({
      ...{ month, run: 0, rate: 1, lower: 0.5, upper: 2 },
      alertRate: k < 6 ? null : 1.5,
      over: overAt.includes(k),
    }),
  );
  const layers = layersOf(removalSpec({ months, rows, top: 3, label: "sandy", style }));
  const values = layers.flatMap(({ data }) =>
    data && "values" in data ? (data.values as { label?: string; month: string }[]) : [],
  );
  return values.find(({ label }) => label === "alert level")?.month;
}

describe("removalSpec(input)", () => {
  it("names the alert level where it begins, or where it ends if a month over stands under the words", () => {
    expect(namedAt([])).toBe("2024-07");
    expect(namedAt([16])).toBe("2024-07");
    expect(namedAt([7])).toBe("2025-12");
    expect(namedAt([7, 22])).toBe("2024-07");
  });
});
