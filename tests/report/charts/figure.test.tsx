import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { chartId, type FigureProps } from "../../../src/report/charts/chart.ts";
import { chartCsv } from "../../../src/report/charts/chart-csv.ts";
import { Figure, MOST_TABLE_ROWS } from "../../../src/report/charts/figure.tsx";

const props = (rows: number): FigureProps => ({
  title: "Sandy & <b>plain</b>",
  svg: "<svg></svg>",
  alt: "What it shows.",
  caption: "How to read it.",
  columns: [
    { head: "Group", name: "group" },
    { head: "Rate (mm)", name: "rate_mm", decimals: 2 },
  ],
  rows: Array.from({ length: rows }, (_, index) => (index === 1 ? ["=cmd", null] : ["a, b", 0.125 + index])),
  csvName: "numbers.csv",
});

describe("Figure(props)", () => {
  it("stands its numbers in a table of the stated decimals, a dash where there is none", () => {
    const html = renderToString(<Figure {...props(2)} />);
    expect(html).toContain("<svg></svg>");
    expect(html).toContain("Sandy &amp; &lt;b>plain&lt;/b>");
    expect(html).toContain("<td>0.13</td>");
    expect(html).toContain("<td>–</td>");
    expect(html).toContain('<a href="numbers.csv">');
  });

  it("leaves a table of over 500 rows to the CSV and says how many there are", () => {
    expect(renderToString(<Figure {...props(MOST_TABLE_ROWS)} />)).toContain("<table");
    const html = renderToString(<Figure {...props(MOST_TABLE_ROWS + 1)} />);
    expect(html).not.toContain("<table");
    expect(html).toMatch(/501 rows: <a href="numbers\.csv">/);
  });
});

describe("chartCsv({columns, rows})", () => {
  it("heads its columns with units, quotes, and neutralises what a spreadsheet would run", () => {
    expect(chartCsv(props(2))).toBe('group,rate_mm\n"a, b",0.125\n\'=cmd,\n');
  });
});

describe("chartId(kind, ...words)", () => {
  it("is a plain name, and another one for words that only look alike", () => {
    expect(chartId("wear", "grip bearing", "sandy-plain")).toBe("wear-grip-bearing-sandy-plain");
    const ids = ["песок", "пыль", "sand!", "sand?", "x".repeat(300), "x".repeat(301)].map((word) =>
      chartId("wear", word),
    );
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id).toMatch(/^wear-[a-z0-9-]{1,50}$/);
  });
});
