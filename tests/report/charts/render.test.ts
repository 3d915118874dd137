import { describe, expect, it } from "vitest";
import { onScale, plot } from "../../../src/report/charts/layers.ts";
import { drawChart } from "../../../src/report/charts/render.ts";
import { HATCH, panel } from "../../../src/report/charts/theme.ts";
import { everyChart } from "./every-chart.ts";

const charts = everyChart();

const words = (text: string) =>
  panel([
    plot(
      [{ text }],
      { type: "text", limit: 5000 },
      { x: { value: 1.23456789 }, y: { value: 2 }, text: { field: "text" } },
    ),
    plot(
      [{}],
      { type: "rect", fill: HATCH },
      { x: { value: 0 }, x2: { value: 9 }, y: { value: 0 }, y2: { value: 9 } },
    ),
  ]);

describe("drawChart(spec, {prefix, alt})", () => {
  it("draws the same bytes twice, whatever was drawn between", async () => {
    const [first, second] = [charts[0]!, charts.find((chart) => chart.id.startsWith("life"))!];
    const once = await drawChart(second.spec, { prefix: "a", alt: "" });
    await drawChart(first.spec, { prefix: "b", alt: "" });
    expect(await drawChart(second.spec, { prefix: "a", alt: "" })).toBe(once);
  });

  it("draws every row, also one that stands there twice, and leaves the rows as they were", async () => {
    const lifted = Object.freeze({ hours: null, wearMm: null });
    const rows = [1, 2, 3].flatMap((at) => [{ hours: at, wearMm: 0 }, { hours: at, wearMm: 1 }, lifted]);
    const scale = onScale({ domain: [0, 4] }, null);
    const path = { type: "line", invalid: "break-paths-show-domains" } as const;
    const spec = panel([plot(rows, path, { x: scale("hours"), y: scale("wearMm"), order: { value: null } })]);
    const svg = await drawChart(spec, { prefix: "p", alt: "" });
    expect(svg.match(/<path d="M[^"]*"/g)!.some((d) => d.match(/M/g)!.length === 3)).toBe(true);
    expect(Object.getOwnPropertySymbols(rows[0])).toEqual([]);
  });

  it("scales with its place, is one image with its words, and has nothing a strict policy would drop", async () => {
    for (const chart of charts) {
      const svg = await drawChart(chart.spec, { prefix: chart.id, alt: chart.alt });
      const head = /^<svg [^>]*>/.exec(svg)![0];
      expect(head).toMatch(/ viewBox="0 0 \d+ \d+"/);
      expect(head).not.toMatch(/ (width|height)=/);
      expect(head).toMatch(/ role="img" aria-label="[^"]{40,}/);
      expect(svg).not.toMatch(/ style=|<style|<script| on\w+=|href=/);
      expect(svg.match(/NaN|undefined|Infinity/g)).toBeNull();
    }
  });

  it("names every id after its prefix, each used where it is defined", async () => {
    const svg = await drawChart(charts.find((chart) => chart.id.startsWith("wear"))!.spec, {
      prefix: "here",
      alt: "",
    });
    const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]!);
    const used = [...svg.matchAll(/url\(#([^)]+)\)/g)].map((match) => match[1]!);
    expect(ids.length).toBeGreaterThan(0);
    expect(ids.every((id) => id.startsWith("here-"))).toBe(true);
    expect(new Set(used)).toEqual(new Set(ids));
  });

  it("rounds coordinates to a tenth of a pixel and leaves the text alone", async () => {
    const svg = await drawChart(words("0.123456789 url(#x)"), { prefix: "p", alt: "" });
    expect(svg).toContain(">0.123456789 url(#x)</text>");
    expect(svg).toContain("translate(1.2,");
  });

  it("keeps markup in text and in the words for it inert", async () => {
    const hostile = `"><script>alert(1)</script><a href='x'>`;
    const svg = await drawChart(words(hostile), { prefix: "p", alt: hostile });
    expect(svg).not.toContain("<script");
    expect(svg).not.toContain("<a ");
    expect(svg).toContain("&lt;script&gt;");
  });

  it("defines its hatching where it is used, and only there", async () => {
    expect(await drawChart(words("x"), { prefix: "p", alt: "" })).toContain('<pattern id="p-hatch"');
    expect(await drawChart(charts[0]!.spec, { prefix: "p", alt: "" })).not.toContain("<pattern");
  });

  it("refuses a prefix that is no plain name", async () => {
    await expect(drawChart(charts[0]!.spec, { prefix: 'a" b', alt: "" })).rejects.toThrow(RangeError);
  });
});
