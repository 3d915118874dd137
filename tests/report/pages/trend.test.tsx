import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, it } from "vitest";
import type { Month } from "../../../src/interval/month-result.ts";
import { figuresBy } from "../../../src/report/charts/figures.ts";
import { monthStyles, riskCharts } from "../../../src/report/charts/month-charts.ts";
import { drawInTurn } from "../../../src/report/charts/render.ts";
import { type TrendPage, trendPage } from "../../../src/report/pages/trend.tsx";
import { makeMonth } from "../../support/make-month.ts";

function drawnPage(month: Month): Promise<TrendPage> {
  const styles = monthStyles(month);
  return trendPage(month, { figure: figuresBy(drawInTurn()), styles, risks: riskCharts(month, styles) });
}

describe("trendPage(month, means)", () => {
  let page: TrendPage;
  let html: string;
  beforeAll(async () => {
    page = await drawnPage(makeMonth());
    html = renderToString(page.body);
  });

  it("leads with the alert, in words", () => {
    expect(html).toMatch(
      /<h1><bdi>Grip bearing, sandy: 2 of the last 3 months are over the 99 % limit<\/bdi><\/h1>/,
    );
  });

  it("leads with the widest difference in wear where there is no alert", async () => {
    const { body } = await drawnPage(makeMonth({ trends: [], gapQuarters: [], recommendations: [] }));
    expect(renderToString(body)).toMatch(
      /<h1><bdi>Grip bearing: sandy, plain wears 3\.4 times as fast as temperate, shielded \(2\.9–4\.0\)</,
    );
  });

  it("has the six questions in order, each with figures", () => {
    expect([...html.matchAll(/<h2>([^<]+)<\/h2>/g)].map((match) => match[1])).toEqual([
      "Removals",
      "Wear rates",
      "Wear and hours",
      "Seal gaps",
      "Lives",
      "Risk and interval",
    ]);
    expect(html.match(/<figure/g)).toHaveLength(27);
  });

  it("says in one sentence with numbers whether the new standard helped, or why it can't", () => {
    expect(html).toContain(
      "<strong><bdi>Sandy.</bdi></strong> <bdi>Shielded lasts longer than plain: 2.1 times as long (95 %: 1.7 to 2.6 times).",
    );
    expect(html).toContain(
      "2024-05-01 to 2026-03-30: 60 and 45 lives, 9 and 21 over the limit; equal lives, p 0.00012",
    );
    expect(html).toContain("Shielded and plain can’t be compared: 2 over-limit events at that time");
    expect(html).toContain("0.48 (0.40–0.57)");
    expect(html).toContain("nothing shows that their shapes differ");
  });

  it("keeps confirmed, cleared and unfinished findings apart, and gives means with bounds", () => {
    const cells = [...html.matchAll(/<tr>(.*?)<\/tr>/g)].map((row) => row[1]!.replace(/<[^>]+>/g, "|"));
    expect(cells.find((row) => row.includes("seal"))).toMatch(/\|12\|+28\|+6\|+5\|+1\|/);
    expect(html).toContain("440\u202fh (345–571)");
    expect(html).toContain("498\u202fh (362–703)");
  });

  it("tests the rate over the fleet's hours, each estimate by its variant", () => {
    expect(html).toContain("coming faster");
    expect(html).toContain("1.41 (1.02–1.85)");
    expect(html).toMatch(/maximum likelihood.*MIL-HDBK-189.*modified.*NIST handbook 8\.4\.5\.2/);
  });

  it("says what it can't: nothing removed, too few to test", async () => {
    const [first] = makeMonth().trends;
    const quiet = {
      ...first!,
      causes: [],
      meanHoursBetween: {
        all: { removals: 0, estimate: null, lower: 4100, upper: null },
        unscheduled: null,
        failures: null,
      },
      overHours: {
        events: 0,
        hours: 18_920,
        leftOut: 0,
        laplace: null,
        militaryHandbook: null,
        powerLaw: null,
      },
      perAircraft: { aircraft: 3, leftOut: 0, points: [] },
    };
    const { body } = await drawnPage(makeMonth({ trends: [quiet], lifeComparisons: [] }));
    const text = renderToString(body);
    expect(text).toContain("none removed; at least 4100\u202fh");
    expect(text).toContain("too few to tell");
    expect(text).not.toContain("Did the new standard help?");
  });

  it("links every CSV beside it once, and makes every CSV it links", () => {
    const linked = [...html.matchAll(/href="([^"]+\.csv)"/g)].map((match) => match[1]!);
    expect(new Set(linked).size).toBe(linked.length);
    expect(linked.sort()).toEqual(page.extraFiles.map((file) => file.path).sort());
    for (const { path, text } of page.extraFiles) {
      expect(path).toMatch(/^trend-[a-z0-9-]+\.csv$/);
      const lines = text.trimEnd().split("\n");
      expect(lines.length).toBeGreaterThan(1);
    }
  });

  it("has every id once, and nothing a strict content-security policy would drop", () => {
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]!);
    expect(new Set(ids).size).toBe(ids.length);
    expect(html).not.toMatch(/ style="|<script| on\w+="/);
  });

  it("stands every figure's words beside it: title, alt, caption", () => {
    expect(html.match(/role="img" aria-label="[^"]{40,}"/g)).toHaveLength(27);
    expect(html.match(/<figcaption>/g)).toHaveLength(27);
  });

  it("says what is missing in a month without exports for it, and draws what there is", async () => {
    const { body, extraFiles } = await drawnPage(
      makeMonth({ trends: [], gapQuarters: [], groups: [], recommendations: [] }),
    );
    const empty = renderToString(body);
    expect(empty).toContain("No removals export");
    expect(empty).toContain("No gap readings");
    expect(empty).toContain("No risk could be computed");
    expect(extraFiles).toEqual([]);
  });

  it("keeps hostile names inert, tells them apart as files, and is not broken by their length", async () => {
    const month = makeMonth();
    const name = (text: string, index: number) =>
      `${text}${"x".repeat(300)}${index}"><script>alert(${index})</script>`;
    const groups = month.groups.slice(0, 3).map((group, index) => ({
      ...group,
      slug: `пыль-${index}`,
      key: { ...group.key, environment: name("п", index) },
    }));
    const trends = month.trends
      .slice(0, 2)
      .map((trend, index) => ({ ...trend, environment: name("т", index) }));
    const { body, extraFiles } = await drawnPage(makeMonth({ groups, trends, recommendations: [] }));
    expect(renderToString(body)).not.toContain("<script");
    expect(new Set(extraFiles.map((file) => file.path)).size).toBe(extraFiles.length);
  });
});
