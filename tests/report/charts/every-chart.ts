/** What the chart tests share: every chart of the invented month, and a walk over a spec's layers. */
import type { TopLevelSpec } from "vega-lite";
import type { Month } from "../../../src/interval/month-result.ts";
import type { Chart } from "../../../src/report/charts/chart.ts";
import { incidenceChart } from "../../../src/report/charts/incidence-chart.ts";
import * as monthCharts from "../../../src/report/charts/month-charts.ts";
import { styleOf } from "../../../src/report/charts/theme.ts";
import { makeMonth } from "../../support/make-month.ts";

const { monthStyles } = monthCharts;
type Panels = (month: Month, styles: monthCharts.EnvironmentStyles) => monthCharts.ChartPanels[];

/** Whatever month-charts.ts exports as panels: a new chart is checked without being listed here. */
const ALL_PANELS = Object.entries(monthCharts)
  .filter(([name]) => name.endsWith("Panels"))
  .sort(([a], [b]) => (a < b ? -1 : 1))
  .map(([, panels]) => panels as Panels);

export function everyChart(month = makeMonth()): Chart[] {
  const styles = monthStyles(month);
  const { confidence } = month.fleet.acceptable;
  return [
    ...ALL_PANELS.flatMap((panels) => panels(month, styles).flatMap(({ charts }) => [...charts])),
    ...month.groups.flatMap(
      (group) => incidenceChart(group, styleOf(styles, group.key.environment), confidence) ?? [],
    ),
  ];
}

export interface DrawnLayer {
  readonly data: { readonly values: readonly Record<string, unknown>[] };
  readonly mark: Record<string, unknown>;
  readonly encoding: Record<string, { readonly field?: string }>;
}

export const layersOf = (spec: TopLevelSpec): readonly DrawnLayer[] =>
  (spec as unknown as { layer: readonly DrawnLayer[] }).layer;

/** Fields that a layer names and some row of it lacks: "layer 2, x: hoors". */
export function missingFields(spec: TopLevelSpec): string[] {
  return layersOf(spec).flatMap((layer, index) =>
    Object.entries(layer.encoding).flatMap(([channel, definition]) => {
      const { field } = definition;
      if (field === undefined || layer.data.values.every((row) => field in row)) return [];
      return [`layer ${index}, ${channel}: ${field}`];
    }),
  );
}

/** A spec for a snapshot: three significant digits, two rows of each layer and how many there are. */
export function abridged(spec: TopLevelSpec): unknown {
  const shortened = {
    ...spec,
    config: undefined,
    layer: layersOf(spec).map((layer) => ({
      ...layer,
      data: { rows: layer.data.values.length, first: layer.data.values.slice(0, 2) },
    })),
  };
  return JSON.parse(
    JSON.stringify(shortened, (_, value) =>
      typeof value === "number" ? Number(value.toPrecision(3)) : value,
    ),
  );
}
