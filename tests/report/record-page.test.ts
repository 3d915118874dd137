import { describe, expect, it } from "vitest";
import type { PastRecord } from "../../src/replay/record-result.ts";
import { chanceBandChart } from "../../src/report/charts/chance-band-chart.ts";
import { countRows, recordCountChart } from "../../src/report/charts/record-count-chart.ts";
import { drawChart } from "../../src/report/charts/render.ts";
import { monthsPage } from "../../src/report/pages/months.tsx";
import { answerSpans } from "../../src/report/pages/record-answers.tsx";
import { recordSummary } from "../../src/report/record-words.ts";
import { renderRecord } from "../../src/report/render-record.ts";
import { makeRecord } from "../support/make-record.ts";
import { missingFields } from "./charts/every-chart.ts";
import { HOSTILE, hostileRecord } from "./hostile-month.ts";

const textOf = (page: string): string =>
  page
    .replace(/<(style|script)>.*?<\/\1>/gs, "")
    .replace(/<[^>]+>/g, " ")
    .replaceAll("\u202f", " ")
    .replace(/\s+/g, " ");

const rendered = async (record: PastRecord) => {
  const files = await renderRecord(record);
  const of = (path: string) => files.find((file) => file.path === path)!.text;
  return { page: of("record.html"), json: JSON.parse(of("record.json")) };
};

describe("renderRecord(record)", () => {
  it("says what was predicted and found, what was proposed and what would have come of it", async () => {
    const { page } = await rendered(makeRecord());
    const text = textOf(page);
    expect(text).toContain("7.5 predicted from lives and 7 found; 2.1 predicted from wear and 6 found");
    expect(text).toContain("36 looks, 6 found: more than predicted (exact two-sided p 0.021)");
    expect(text).toContain(
      "1 of the 1 that would have had looks by now would have found more than the acceptable 10 %",
    );
    // 2 + 1 + 1 of 20, of which 1 past the unsafe-at limit.
    expect(text).toContain("4 of 20: 20 % (5.7–44)");
    expect(text).toContain("Past the unsafe-at limit by then: 1.");
    expect(text).toContain("Shorten 200 h: no interval was demonstrated");
    expect(text).toContain("Extend 400 h to 500 h");
  });

  it("owns up to what can't be undone: exports without dates, exports not there yet, months skipped", async () => {
    const text = textOf((await rendered(makeRecord())).page);
    expect(text).toContain("The exports of installed have no date of export");
    expect(text).toContain("corrections made later, and rows entered late, are in it and can't be undone");
    expect(text).toContain("1 month-end had no export of gaps yet");
    expect(text).toContain("2025-11 no export of looks or removals was there yet");
    const dated = textOf((await rendered(makeRecord({ undated: [] }))).page);
    expect(dated).not.toContain("have no date of export");
  });

  it("has a record.json with everything that the page shows", async () => {
    const { json } = await rendered(makeRecord());
    expect(json).toMatchObject({
      schema: "rotorwear/record/1",
      month: "2026-03",
      as_of: "2026-03-31",
      months_asked: 4,
      undated_exports: ["installed"],
      summary: recordSummary(makeRecord()),
    });
    expect(json.totals[1]).toEqual({
      group: null,
      method: "wear",
      looks: 36,
      found: 6,
      predicted: 2.1,
      predicted_at_most: null,
      p: 0.021,
    });
    expect(json.months).toHaveLength(4);
    expect(json.granted[0].looks).toMatchObject({ over: 2, past_unsafe: 1, left_before: 2 });
    expect(json.watch_list.bands.map((band: { looks: number }) => band.looks)).toEqual([20, 0, 0, 0, 10]);
  });

  it("stands where nothing came after: no looks, no watch list, no proposals", async () => {
    const empty = makeRecord({ totals: [], monthly: [], watch: null, granted: [], skipped: [], undated: [] });
    const text = textOf((await rendered(empty)).page);
    expect(text).toContain("Record: no look has been made since the months replayed");
    expect(text).toContain("In no month replayed was a longer interval proposed");
    expect(text).toContain("No component of a watch list has been looked at since.");
  });

  it("keeps hostile text inert", async () => {
    const { page } = await rendered(hostileRecord());
    expect(page).not.toContain("<script>alert");
    expect(page).not.toContain("<img src=x");
    expect(page).toContain("&lt;script>alert(1)");
    expect(page).not.toContain("\u202e");
    expect(HOSTILE).toContain("\u202e");
    expect(page.match(/<script>/g)).toHaveLength(1);
  });
});

describe("charts of a record", () => {
  const { monthly, watch } = makeRecord();
  const charts = [
    recordCountChart(monthly, "life")!,
    recordCountChart(monthly, "wear")!,
    chanceBandChart(watch!, 0.95),
  ];

  it.each(charts.map((chart) => [chart.id, chart] as const))(
    "%s compiles without a warning, names only fields that there are, and has numbers in every row",
    async (_, chart) => {
      await expect(drawChart(chart.spec, { prefix: chart.id, alt: chart.alt })).resolves.toMatch(/^<svg /);
      expect(missingFields(chart.spec)).toEqual([]);
      for (const row of chart.rows) expect(row).toHaveLength(chart.columns.length);
    },
  );

  it("adds up months by hand, with a band of 1.96 standard deviations", () => {
    const last = countRows(monthly, "life").at(-1)!;
    expect(last).toMatchObject({ looks: 42, predicted: 7.5, found: 6 });
    expect(last.high).toBeCloseTo(7.5 + 1.96 * Math.sqrt(6), 12);
    expect(countRows(monthly, "life")[0]!.low).toBe(0);
    expect(recordCountChart([], "life")).toBeNull();
  });
});

describe("answerSpans(dated)", () => {
  it("puts months that said the same into one row, and tells which rules failed in all of them", () => {
    const dated = makeRecord().months.map(({ month, answers }) => ({ month, answer: answers[0]! }));
    const spans = answerSpans(dated);
    expect(spans.map(({ from, to, months }) => [from, to, months])).toEqual([
      ["2025-12", "2026-01", 2],
      ["2026-02", "2026-02", 1],
      ["2026-03", "2026-03", 1],
    ]);
    expect(spans[0]).toMatchObject({ failedInAll: ["review"], failedInSome: ["direct count"] });
  });
});

describe("monthsPage(months, records)", () => {
  it("links to records, and is without them what it was", () => {
    const records = [{ folder: "record-2026-03.2", month: "2026-03", revision: 2 }];
    expect(monthsPage([], records)).toContain(
      '<a href="record-2026-03.2/record.html">Record up to March 2026, revision 2',
    );
    expect(monthsPage([], [])).toBe(monthsPage([]));
    expect(monthsPage([])).not.toContain("Record up to");
  });
});
