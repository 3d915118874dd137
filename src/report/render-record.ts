/** A record of past months as the files that are published. */
import type { PastRecord } from "../replay/record-result.ts";
import { chanceBandChart } from "./charts/chance-band-chart.ts";
import { figuresBy } from "./charts/figures.ts";
import { recordCountChart } from "./charts/record-count-chart.ts";
import { drawInTurn } from "./charts/render.ts";
import { recordJson } from "./files/record-json.ts";
import { renderPage } from "./layout.tsx";
import { legible } from "./legible.ts";
import { RecordPage } from "./pages/record.tsx";
import type { ReportFile } from "./report-file.ts";

/** record.html and record.json. */
export async function renderRecord(recorded: PastRecord): Promise<ReportFile[]> {
  const record = legible(recorded);
  const counts = (["life", "wear"] as const).flatMap(
    (method) => recordCountChart(record.monthly, method) ?? [],
  );
  const { watch } = record;
  const figure = figuresBy(drawInTurn());
  const page = RecordPage({
    record,
    counts: await Promise.all(counts.map((chart) => figure(chart))),
    watch: watch === null ? null : await figure(chanceBandChart(watch, record.fleet.acceptable.confidence)),
  });
  return [
    { path: "record.html", text: renderPage(page) },
    { path: "record.json", text: recordJson(recorded) },
  ];
}
