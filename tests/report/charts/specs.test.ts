import type { TopLevelSpec } from "vega-lite";
import { describe, expect, it } from "vitest";
import { ChartError, drawChart } from "../../../src/report/charts/render.ts";
import { abridged, everyChart, layersOf, missingFields } from "./every-chart.ts";

const charts = everyChart();
/** The first chart of each kind. */
const kinds = [
  "removals",
  "per-aircraft",
  "rates",
  "wear",
  "gaps",
  "life",
  "over-limit",
  "unsafe",
  "modes",
].map((kind) => ({
  kind,
  chart: charts.find((chart) => chart.id.startsWith(kind))!,
}));

describe("chart specs", () => {
  it("has every kind of chart of the month, and a chart for a group that could not be fitted", () => {
    expect(kinds.filter(({ chart }) => chart === undefined)).toEqual([]);
    expect(charts.map((chart) => chart.id)).toContain("life-grip-bearing-coastal-shielded");
    expect(charts).toHaveLength(32);
  });

  it.each(charts.map((chart) => [chart.id, chart] as const))(
    "%s compiles and runs without a warning",
    async (_, chart) => {
      const before = JSON.stringify(chart.spec);
      await expect(drawChart(chart.spec, { prefix: chart.id, alt: chart.alt })).resolves.toMatch(/^<svg /);
      expect(JSON.stringify(chart.spec)).toBe(before);
    },
  );

  it.each(charts.map((chart) => [chart.id, chart] as const))(
    "%s names only fields that its rows have",
    (_, chart) => {
      expect(missingFields(chart.spec)).toEqual([]);
    },
  );

  it.each(charts.map((chart) => [chart.id, chart] as const))(
    "%s has numbers in every row for every column",
    (_, chart) => {
      expect(chart.rows.length).toBeGreaterThan(0);
      for (const row of chart.rows) {
        expect(row).toHaveLength(chart.columns.length);
        for (const [at, cell] of row.entries()) {
          if (cell === null) continue;
          expect(typeof cell).toBe(chart.columns[at]!.decimals === undefined ? "string" : "number");
          if (typeof cell === "number") expect(Number.isFinite(cell)).toBe(true);
        }
      }
    },
  );

  it.each(kinds.map(({ kind, chart }) => [kind, chart] as const))(
    "%s: the spec is as it was last looked at",
    (_, chart) => {
      expect(abridged(chart.spec)).toMatchSnapshot();
    },
  );
});

describe("the checks themselves", () => {
  const wear = kinds.find(({ kind }) => kind === "wear")!.chart.spec;

  it("finds a misspelt field, which compiles silently", () => {
    const layers = layersOf(wear).map((layer, index) =>
      index === 0
        ? { ...layer, encoding: { ...layer.encoding, x: { ...layer.encoding.x, field: "hoors" } } }
        : layer,
    );
    expect(missingFields({ ...wear, layer: layers } as unknown as TopLevelSpec)).toEqual([
      "layer 0, x: hoors",
    ]);
  });

  it("refuses a spec that its compiler warns of", async () => {
    const layers = layersOf(wear).map((layer) => ({
      ...layer,
      encoding: { ...layer.encoding, shape: { field: "hours", type: "quantitative" } },
    }));
    const spec = { ...wear, layer: layers } as unknown as TopLevelSpec;
    await expect(drawChart(spec, { prefix: "bad", alt: "" })).rejects.toThrow(ChartError);
  });
});
