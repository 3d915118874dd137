/** A month as the files that are published: pages, charts' numbers, and what other programs read. */
import type { GroupResult, Month, Recommendation } from "../interval/month-result.ts";
import type { FigureProps } from "./charts/chart.ts";
import { figuresBy } from "./charts/figures.ts";
import { incidenceChart } from "./charts/incidence-chart.ts";
import { monthStyles, riskCharts } from "./charts/month-charts.ts";
import { type Draw, drawInTurn } from "./charts/render.ts";
import { styleOf } from "./charts/theme.ts";
import { digest } from "./files/digest.ts";
import { livesCsv } from "./files/lives-csv.ts";
import { recommendationsCsv } from "./files/recommendations-csv.ts";
import { runJson } from "./files/run-json.ts";
import { watchlistCsv } from "./files/watchlist-csv.ts";
import { isUnbounded, sameGroup } from "./group-name.ts";
import { Page, renderPage } from "./layout.tsx";
import { legible } from "./legible.ts";
import { DataPage } from "./pages/data.tsx";
import { IndexPage } from "./pages/index.tsx";
import { IntervalPage } from "./pages/interval.tsx";
import { MethodPage } from "./pages/method.tsx";
import { type TrendMeans, trendPage } from "./pages/trend.tsx";
import { LongFile, type ReportFile } from "./report-file.ts";

/** A slug becomes a file name, so it is nothing but small letters, digits and hyphens. */
const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

async function riskFigures(
  { figure, risks }: TrendMeans,
  recommendation: Recommendation,
): Promise<readonly FigureProps[]> {
  if (isUnbounded(recommendation)) return [];
  const charts = risks.get(recommendation);
  const shown = [charts?.overLimit, charts?.unsafe].flatMap((chart) => chart ?? []);
  return Promise.all(shown.map((chart) => figure(chart)));
}

async function modeFigure(
  month: Month,
  group: GroupResult,
  { figure, styles }: TrendMeans,
): Promise<FigureProps | null> {
  const style = styleOf(styles, group.key.environment);
  const chart = incidenceChart(group, style, month.fleet.acceptable.confidence);
  return chart === null ? null : figure(chart);
}

function groupOf(month: Month, recommendation: Recommendation): GroupResult {
  const group = month.groups.find(({ key }) => sameGroup(key, recommendation.group));
  if (group === undefined) throw new Error(`no group for the recommendation ${recommendation.slug}`);
  return group;
}

async function intervalPage(
  month: Month,
  recommendation: Recommendation,
  means: TrendMeans,
): Promise<ReportFile> {
  if (!SLUG.test(recommendation.slug)) throw new Error(`not a slug: ${JSON.stringify(recommendation.slug)}`);
  const group = groupOf(month, recommendation);
  const [risks, mode] = await Promise.all([
    riskFigures(means, recommendation),
    modeFigure(month, group, means),
  ]);
  const page = IntervalPage({ month, recommendation, group, riskFigures: risks, modeFigure: mode });
  return { path: `interval-${recommendation.slug}.html`, text: renderPage(page) };
}

const TREND_TITLE = "Wear, lives and trends";

async function trendFiles(month: Month, means: TrendMeans): Promise<readonly ReportFile[]> {
  const { body, extraFiles } = await trendPage(month, means);
  const page = Page({ title: TREND_TITLE, month, path: "trend.html", children: body });
  return [{ path: "trend.html", text: renderPage(page) }, ...extraFiles];
}

/** Pages without a drawing. */
const plainPages = (month: Month): readonly [index: ReportFile, ...others: ReportFile[]] => [
  { path: "index.html", text: renderPage(IndexPage({ month })) },
  { path: "data.html", text: renderPage(DataPage({ month })) },
  { path: "method.html", text: renderPage(MethodPage({ month })) },
];

const machineFiles = async (recorded: Month): Promise<readonly ReportFile[]> => [
  { path: "run.json", text: runJson(recorded) },
  { path: "recommendations.csv", text: await recommendationsCsv(recorded) },
  { path: "watchlist.csv", text: watchlistCsv(recorded) },
  new LongFile("lives.csv", () => livesCsv(recorded)),
  { path: "digest.txt", text: digest(recorded) },
];

/**
 * Every file of the month's folder but rejected.csv and the manifest, which the run itself writes. All drawings are begun
 * first: where other threads draw, this one writes what needs none.
 */
export async function renderMonth(recorded: Month, draw: Draw = drawInTurn()): Promise<ReportFile[]> {
  const month = legible(recorded);
  const styles = monthStyles(month);
  const means = { figure: figuresBy(draw), styles, risks: riskCharts(month, styles) };
  const [trend, intervals, [index, ...plain], machine] = await Promise.all([
    trendFiles(month, means),
    Promise.all(month.recommendations.map((one) => intervalPage(month, one, means))),
    (async () => plainPages(month))(),
    machineFiles(recorded),
  ]);
  return [index, ...trend, ...plain, ...intervals, ...machine];
}
