/** A month as the files that are published: pages, charts' numbers, and what other programs read. */
import type { GroupResult, Month, Recommendation } from "../interval/month-result.ts";
import { type FigureProps, figureOf } from "./charts/chart.ts";
import { incidenceChart } from "./charts/incidence-chart.ts";
import { overLimitChart, unsafeChart } from "./charts/risk-chart.ts";
import { type EnvironmentStyle, environmentStyles, styleOf } from "./charts/theme.ts";
import { digest } from "./files/digest.ts";
import { livesCsv } from "./files/lives-csv.ts";
import { recommendationsCsv } from "./files/recommendations-csv.ts";
import { runJson } from "./files/run-json.ts";
import { watchlistCsv } from "./files/watchlist-csv.ts";
import { sameGroup } from "./group-name.ts";
import { Page, renderPage } from "./layout.tsx";
import { legible } from "./legible.ts";
import { DataPage } from "./pages/data.tsx";
import { IndexPage } from "./pages/index.tsx";
import { IntervalPage } from "./pages/interval.tsx";
import { MethodPage } from "./pages/method.tsx";
import { trendPage } from "./pages/trend.tsx";

export interface ReportFile {
  /** Path below the month's folder. */
  readonly path: string;
  readonly text: string;
}

/** A slug becomes a file name, so it is nothing but small letters, digits and hyphens. */
const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

const styleFor = (month: Month, environment: string): EnvironmentStyle =>
  styleOf(environmentStyles([...month.fleet.words.environments.values()]), environment);

async function riskFigures(month: Month, recommendation: Recommendation): Promise<readonly FigureProps[]> {
  const { acceptable } = month.fleet;
  const style = styleFor(month, recommendation.group.environment);
  const charts = [
    overLimitChart(recommendation, acceptable.overLimitPerInspection, acceptable.confidence, style),
    unsafeChart(recommendation, acceptable.unsafeBeforeSeen, acceptable.confidence, style),
  ];
  return Promise.all(charts.filter((chart) => chart !== null).map((chart) => figureOf(chart)));
}

async function modeFigure(month: Month, group: GroupResult): Promise<FigureProps | null> {
  const style = styleFor(month, group.key.environment);
  const chart = incidenceChart(group, style, month.fleet.acceptable.confidence);
  return chart === null ? null : figureOf(chart);
}

function groupOf(month: Month, recommendation: Recommendation): GroupResult {
  const group = month.groups.find(({ key }) => sameGroup(key, recommendation.group));
  if (group === undefined) throw new Error(`no group for the recommendation ${recommendation.slug}`);
  return group;
}

async function intervalPage(month: Month, recommendation: Recommendation): Promise<ReportFile> {
  if (!SLUG.test(recommendation.slug)) throw new Error(`not a slug: ${JSON.stringify(recommendation.slug)}`);
  const group = groupOf(month, recommendation);
  const props = {
    month,
    recommendation,
    group,
    riskFigures: await riskFigures(month, recommendation),
    modeFigure: await modeFigure(month, group),
  };
  return { path: `interval-${recommendation.slug}.html`, text: renderPage(IntervalPage(props)) };
}

const TREND_TITLE = "Wear, lives and trends";

async function trendFiles(month: Month): Promise<readonly ReportFile[]> {
  const { body, extraFiles } = await trendPage(month);
  const page = Page({ title: TREND_TITLE, month, path: "trend.html", children: body });
  return [{ path: "trend.html", text: renderPage(page) }, ...extraFiles];
}

/** Every file of the month's folder but rejected.csv and the manifest, which the run itself writes. */
export async function renderMonth(recorded: Month): Promise<ReportFile[]> {
  const month = legible(recorded);
  const pages: ReportFile[] = [
    { path: "index.html", text: renderPage(IndexPage({ month })) },
    ...(await trendFiles(month)),
    { path: "data.html", text: renderPage(DataPage({ month })) },
    { path: "method.html", text: renderPage(MethodPage({ month })) },
  ];
  for (const recommendation of month.recommendations) {
    if (recommendation.recommendation === "not enough evidence") continue;
    pages.push(await intervalPage(month, recommendation));
  }
  return [
    ...pages,
    { path: "run.json", text: runJson(recorded) },
    { path: "recommendations.csv", text: recommendationsCsv(recorded) },
    { path: "watchlist.csv", text: watchlistCsv(recorded) },
    { path: "lives.csv", text: livesCsv(recorded) },
    { path: "digest.txt", text: digest(recorded) },
  ];
}
