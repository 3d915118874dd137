/**
 * trend.html: read sitting, by someone who will argue with it. Is it real, and why? Removals and alerts first, then wear
 * and what drives it, lives, and the risks that follow from them. The numbers of each chart are a CSV beside the page.
 */
import type { VNode } from "preact";
import type { Month, Recommendation } from "../../interval/month-result.ts";
import type { Chart, FigureProps } from "../charts/chart.ts";
import { chartCsv } from "../charts/chart-csv.ts";
import { Figure } from "../charts/figure.tsx";
import type { MakeFigure } from "../charts/figures.ts";
import {
  type ChartPanels,
  type EnvironmentStyles,
  gapPanels,
  lifePanels,
  type RiskCharts,
  ratePanels,
  removalPanels,
  riskPanels,
  wearPanels,
} from "../charts/month-charts.ts";
import { sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { LivesCompared } from "./trend-lives.tsx";
import { RemovalNumbers } from "./trend-removals.tsx";
import { SealEffects } from "./trend-seal.tsx";
import { RateOpinions, RatesCompared } from "./trend-wear.tsx";

/** What the page shares with the other pages of its month. */
export interface TrendMeans {
  readonly figure: MakeFigure;
  readonly styles: EnvironmentStyles;
  readonly risks: ReadonlyMap<Recommendation, RiskCharts>;
}

export interface TrendPage {
  /** Everything inside the page's main part, heading included. */
  readonly body: VNode;
  readonly extraFiles: readonly { readonly path: string; readonly text: string }[];
}

interface Section {
  readonly title: string;
  readonly intro: string;
  /** What stands there where the month has no such chart. */
  readonly none: string;
  readonly panels: readonly ChartPanels[];
  /** Numbers and sentences under the charts. */
  readonly after?: VNode;
}

const RATES = "Wear rates";

function sections(month: Month, { styles, risks }: TrendMeans): Section[] {
  return [
    {
      title: "Removals",
      intro: "Unscheduled removals by month. An alert is two of the last three months over the alert level.",
      none: "No removals export, or no month with flight hours.",
      panels: removalPanels(month, styles),
      after: <RemovalNumbers month={month} />,
    },
    {
      title: RATES,
      intro: "Rate of each environment and standard, fastest first.",
      none: "No group has readings.",
      panels: ratePanels(month, styles),
      after: <RatesCompared month={month} />,
    },
    {
      title: "Wear and hours",
      intro: "Every reading of every group; panels of one part share both axes.",
      none: "No group has readings.",
      panels: wearPanels(month, styles),
      after: <RateOpinions month={month} />,
    },
    {
      title: "Seal gaps",
      intro: "Gaps as found and as left, against the tolerance of the standard fitted.",
      none: "No gap readings: the fleet file names no gap export, or it holds no usable row.",
      panels: gapPanels(month, styles),
      after: <SealEffects month={month} />,
    },
    {
      title: "Lives",
      intro:
        "Share of components over the replace-at limit against hours. A Weibull life is a straight line here; the steps show what was observed. Each life stands in lives.csv with the rows that made it.",
      none: "No group has lives.",
      panels: lifePanels(month, styles),
      after: <LivesCompared month={month} />,
    },
    {
      title: "Risk and interval",
      intro: "What each candidate interval would risk, by both lines of evidence.",
      none: "No risk could be computed for any group.",
      panels: riskPanels(month, styles, risks),
    },
  ];
}

const Panels = ({ name, figures }: { name: string; figures: readonly FigureProps[] }): VNode => (
  <>
    {name === "" ? null : (
      <h3>
        <bdi>{sentenceCase(name)}</bdi>
      </h3>
    )}
    <div class={figures.length === 1 ? undefined : "figures"}>
      {figures.map((figure) => (
        <Figure key={figure.csvName} {...figure} level={name === "" ? 3 : 4} />
      ))}
    </div>
  </>
);

/** Largest ratio of wear rates that a chart shows; its rows run from the fastest group. */
function timesTheSlowest({ columns, rows }: Chart): number {
  const [fastest] = rows;
  const ratio = fastest?.[columns.findIndex((column) => column.name === "ratio_to_slowest")];
  return typeof ratio === "number" ? ratio : 0;
}

/** What the page says first: an alert where there is one, else the largest difference in wear. */
function finding(all: readonly Section[], month: Month): string {
  const alert = month.trends.find((trend) => trend.alert);
  if (alert !== undefined) {
    return `${sentenceCase(alert.part)}, ${alert.environment}: ${alert.alertWhy ?? "removals over the alert level"}`;
  }
  const rates = all.flatMap((section) => (section.title === RATES ? section.panels : []));
  const [widest] = rates
    .flatMap(({ charts }) => charts)
    .toSorted((one, other) => timesTheSlowest(other) - timesTheSlowest(one));
  return widest === undefined ? "Wear, lives and trends: nothing could be fitted this month" : widest.title;
}

/** The page's body with every chart drawn, and the CSVs beside it. All drawings are begun before it waits for any. */
export async function trendPage(month: Month, means: TrendMeans): Promise<TrendPage> {
  const ids = new Set<string>();
  const all = sections(month, means).map((section) => ({
    ...section,
    panels: withOwnIds(section.panels, ids),
  }));
  const taken = new Set<string>();
  const charts = all.flatMap((section) => section.panels.flatMap((panels) => panels.charts));
  const names = new Map(charts.map((chart) => [chart, unused(`trend-${chart.id}`, taken, ".csv")]));
  const begun = Promise.all(charts.map((chart) => means.figure(chart, names.get(chart))));
  const extraFiles = [...names].map(([chart, path]) => ({ path, text: chartCsv(chart) }));
  const figures = new Map((await begun).map((figure, at) => [charts[at]!, figure]));
  return {
    body: (
      <>
        <h1>
          <bdi>{finding(all, month)}</bdi>
        </h1>
        {all.map(({ title, intro, none, panels, after }) => (
          <Part key={title} title={title}>
            <p>{panels.length === 0 ? none : intro}</p>
            {panels.map(({ name, charts: side }) => (
              <Panels key={name} name={name} figures={side.map((chart) => figures.get(chart)!)} />
            ))}
            {after}
          </Part>
        ))}
      </>
    ),
    extraFiles,
  };
}

/** Names made of words in other scripts can fall together as ids: a number tells them apart. */
function withOwnIds(panels: readonly ChartPanels[], taken: Set<string>): ChartPanels[] {
  return panels.map(({ name, charts }) => ({
    name,
    charts: charts.map((chart) => {
      const id = unused(chart.id, taken, "");
      return id === chart.id ? chart : { ...chart, id };
    }),
  }));
}

function unused(stem: string, taken: Set<string>, ending: string): string {
  let name = `${stem}${ending}`;
  for (let number = 2; taken.has(name); number += 1) name = `${stem}-${number}${ending}`;
  taken.add(name);
  return name;
}
