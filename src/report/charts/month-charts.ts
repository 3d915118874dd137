/** Every chart of a month, in the order of the engineer's questions; panels of one part share their axes. */
import type { GroupResult, Month, Recommendation } from "../../interval/month-result.ts";
import { aircraftChart } from "./aircraft-chart.ts";
import type { Chart } from "./chart.ts";
import { gapChart, type Tolerance } from "./gap-chart.ts";
import { lifeChart } from "./life-chart.ts";
import { lifeKinds, lifeRange } from "./life-range.ts";
import { rateChart } from "./rate-chart.ts";
import { removalChart, removalTop } from "./removal-chart.ts";
import { overLimitChart, unsafeChart } from "./risk-chart.ts";
import { type EnvironmentStyle, environmentStyles, styleOf } from "./theme.ts";
import { wearAxes, wearChart } from "./wear-chart.ts";

export type EnvironmentStyles = ReadonlyMap<string, EnvironmentStyle>;

/** Charts about one part (or one seal standard), side by side. */
export interface ChartPanels {
  /** What the panels have in common; "" where the section says it all. */
  readonly name: string;
  readonly charts: readonly Chart[];
}

/** Environments in the order of the fleet file, whichever of them the month has. */
export const monthStyles = (month: Month): EnvironmentStyles =>
  environmentStyles([...month.fleet.words.environments.values()]);

/** Groups by part, in the order of the fleet file, parts without a group left out. */
function byPart(month: Month): { readonly part: string; readonly groups: readonly GroupResult[] }[] {
  return month.fleet.parts
    .map(({ part }) => ({ part, groups: month.groups.filter((group) => group.key.part === part) }))
    .filter(({ groups }) => groups.length > 0);
}

/** Removals by month: a panel for each part and environment. */
export const removalPanels = (month: Month, styles: EnvironmentStyles): ChartPanels[] =>
  month.fleet.parts.flatMap(({ part }) => {
    const trends = month.trends.filter((trend) => trend.part === part);
    const top = removalTop(trends);
    const { confidence } = month.fleet.acceptable;
    const charts = trends.map((trend) =>
      removalChart(trend, top, styleOf(styles, trend.environment), confidence),
    );
    const perAircraft = aircraftChart(part, trends, styles, confidence);
    if (perAircraft !== null) charts.push(perAircraft);
    return charts.length === 0 ? [] : [{ name: part, charts }];
  });

/** Wear and hours: a panel a group, one scale for each part. */
export const wearPanels = (month: Month, styles: EnvironmentStyles): ChartPanels[] =>
  byPart(month).map(({ part, groups }) => {
    const axes = wearAxes(groups);
    const panels = groups.map((group) =>
      wearChart(group, axes, styleOf(styles, group.key.environment), month.serials),
    );
    return { name: part, charts: panels };
  });

const comparisonOf = (month: Month, part: string) =>
  month.partWear.find((one) => one.part === part)?.comparison ?? null;

/** Wear rates: a chart for each part. */
export function ratePanels(month: Month, styles: EnvironmentStyles): ChartPanels[] {
  const charts = byPart(month).map(({ part, groups }) =>
    rateChart(part, groups, styles, comparisonOf(month, part)),
  );
  return charts.length === 0 ? [] : [{ name: "", charts }];
}

/** Lives: a panel a group, one scale for each part. */
export const lifePanels = (month: Month, styles: EnvironmentStyles): ChartPanels[] =>
  byPart(month).map(({ part, groups }) => {
    const shared = { range: lifeRange(groups), kinds: lifeKinds(groups) };
    const { confidence } = month.fleet.acceptable;
    const charts = groups.map((group) =>
      lifeChart(group, shared, styleOf(styles, group.key.environment), confidence),
    );
    return { name: part, charts };
  });

/** Charts of a recommendation's risks; null where the risk could not be computed. */
export interface RiskCharts {
  readonly overLimit: Chart | null;
  readonly unsafe: Chart | null;
}

/** The risks of every recommendation: shown on the page of its interval, and with all others. */
export function riskCharts(month: Month, styles: EnvironmentStyles): ReadonlyMap<Recommendation, RiskCharts> {
  const { overLimitPerInspection, unsafeBeforeSeen, confidence } = month.fleet.acceptable;
  return new Map(
    month.recommendations.map((one) => {
      const style = styleOf(styles, one.group.environment);
      const overLimit = overLimitChart(one, overLimitPerInspection, confidence, style);
      return [one, { overLimit, unsafe: unsafeChart(one, unsafeBeforeSeen, confidence, style) }];
    }),
  );
}

/** Each risk of every task, its groups side by side. */
export const riskPanels = (
  month: Month,
  styles: EnvironmentStyles,
  risks = riskCharts(month, styles),
): ChartPanels[] =>
  month.fleet.tasks.flatMap(({ task }) => {
    const ofTask = [...risks].flatMap(([one, charts]) => (one.task === task ? [charts] : []));
    const panels = (name: string, risk: keyof RiskCharts): ChartPanels[] => {
      const charts = ofTask.flatMap((one) => one[risk] ?? []);
      return charts.length === 0 ? [] : [{ name: `${task}: ${name}`, charts }];
    };
    return [
      ...panels("over the limit per inspection", "overLimit"),
      ...panels("unsafe before it is seen", "unsafe"),
    ];
  });

/** Seal gaps: a panel for each standard and environment. */
export function gapPanels(month: Month, styles: EnvironmentStyles): ChartPanels[] {
  const quarters = [...new Set(month.gapQuarters.map((quarter) => quarter.quarter))].sort();
  const tolerances = new Map<string, Tolerance>(month.fleet.sealGaps.map((one) => [one.standard, one]));
  const standards = [...new Set(month.gapQuarters.map((quarter) => quarter.standard))];
  const highest = month.gapQuarters.reduce((top, quarter) => Math.max(top, quarter.highMm), 0.1);
  const topMm = 1.1 * month.fleet.sealGaps.reduce((top, one) => Math.max(top, one.highMm), highest);
  return standards.map((standard) => {
    const ofStandard = month.gapQuarters.filter((quarter) => quarter.standard === standard);
    const charts = [...new Set(ofStandard.map((quarter) => quarter.environment))].map((environment) =>
      gapChart(standard, environment, {
        quarters: ofStandard
          .filter((quarter) => quarter.environment === environment)
          .sort((a, b) => (a.quarter < b.quarter ? -1 : a.quarter > b.quarter ? 1 : 0)),
        axis: quarters,
        topMm,
        tolerance: tolerances.get(standard) ?? null,
        style: styleOf(styles, environment),
      }),
    );
    return { name: standard, charts };
  });
}
