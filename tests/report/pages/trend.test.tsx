import { renderToString } from "preact-render-to-string";
import { beforeAll, describe, expect, it } from "vitest";
import { type TrendPage, trendPage } from "../../../src/report/pages/trend.tsx";
import { makeMonth } from "../../support/make-month.ts";

describe("trendPage(month)", () => {
  let page: TrendPage;
  let html: string;
  beforeAll(async () => {
    page = await trendPage(makeMonth());
    html = renderToString(page.body);
  });

  it("leads with the alert, in words", () => {
    expect(html).toMatch(
      /<h1><bdi>Grip bearing, sandy: 2 of the last 3 months are over the 99 % limit<\/bdi><\/h1>/,
    );
  });

  it("leads with the widest difference in wear where there is no alert", async () => {
    const { body } = await trendPage(makeMonth({ trends: [], gapQuarters: [], recommendations: [] }));
    expect(renderToString(body)).toMatch(
      /<h1><bdi>Grip bearing: sandy, plain wears 3\.4 times as fast as temperate, shielded</,
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
    expect(html.match(/<figure/g)).toHaveLength(25);
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
    expect(html.match(/role="img" aria-label="[^"]{40,}"/g)).toHaveLength(25);
    expect(html.match(/<figcaption>/g)).toHaveLength(25);
  });

  it("says what is missing in a month without exports for it, and draws what there is", async () => {
    const { body, extraFiles } = await trendPage(
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
    const { body, extraFiles } = await trendPage(makeMonth({ groups, trends, recommendations: [] }));
    expect(renderToString(body)).not.toContain("<script");
    expect(new Set(extraFiles.map((file) => file.path)).size).toBe(extraFiles.length);
  });
});
