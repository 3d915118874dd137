import { createHash } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { sameGroup } from "../../src/report/group-name.ts";
import { renderPage } from "../../src/report/layout.tsx";
import { DataPage } from "../../src/report/pages/data.tsx";
import { IndexPage } from "../../src/report/pages/index.tsx";
import { IntervalPage } from "../../src/report/pages/interval.tsx";
import { monthsPage } from "../../src/report/pages/months.tsx";
import { renderMonth } from "../../src/report/render-month.ts";
import type { ReportFile } from "../../src/report/report-file.ts";
import { makeMonth } from "../support/make-month.ts";
import { fullMonth } from "./full-month.ts";
import { HOSTILE, hostileMonth } from "./hostile-month.ts";

const pagesOf = (files: readonly ReportFile[]): readonly ReportFile[] =>
  files.filter(({ path }) => path.endsWith(".html"));

const named = (files: readonly ReportFile[], path: string): string => {
  const file = files.find((one) => one.path === path);
  if (file === undefined) throw new Error(`no ${path} among ${files.map((one) => one.path).join(", ")}`);
  return file.text;
};

/** A page's text as a reader sees it. */
const textOf = (page: string): string =>
  page
    .replace(/<(style|script)>.*?<\/\1>/gs, "")
    .replace(/<[^>]+>/g, " ")
    .replaceAll("&amp;", "&")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("\u202f", " ")
    .replace(/\s+/g, " ");

/** The page's tags without what stands in quotes: no text of an export is left but what broke out of its place. */
const bareTags = (page: string): string =>
  page.replace(/<(style|script)>.*?<\/\1>/gs, "").replace(/"[^"]*"/g, '""');

const hashOf = (text: string): string => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

const hashOfInputs = (inputs: readonly { sha256: string; file: string }[]): string =>
  createHash("sha256")
    .update(inputs.map(({ sha256, file }) => `${sha256}  ${file}\n`).join(""))
    .digest("hex");

let files: readonly ReportFile[];
beforeAll(async () => {
  files = await renderMonth(fullMonth());
});

describe("renderMonth(month)", () => {
  it("leaves no number apart from its unit on any page, and no joining space in the digest", () => {
    for (const { path, text } of pagesOf(files)) {
      const words = text.replace(/<(style|script)>.*?<\/\1>/gs, "").replace(/<[^>]+>/g, "\n");
      expect(words.match(/.{0,20}\d (?:%|h\b|mm\b).{0,10}/g), path).toBeNull();
      expect(words, path).toMatch(/\d\u202f%/);
    }
    expect(named(files, "digest.txt")).toMatch(/^[\x20-\x7e\n]+$/);
  });

  it("makes one page a subject, one officer's page a group, also where it is too thin, and the machine files", () => {
    const paths = files.map(({ path }) => path).filter((path) => !path.startsWith("trend-"));
    expect(paths).toEqual([
      "index.html",
      "trend.html",
      "data.html",
      "method.html",
      "interval-grip-bearing-temperate-shielded.html",
      "interval-grip-bearing-sandy-shielded.html",
      "interval-grip-bearing-sandy-plain.html",
      "interval-grip-bearing-coastal-shielded.html",
      "interval-hinge-bushing-temperate-as-fitted.html",
      "run.json",
      "recommendations.csv",
      "watchlist.csv",
      "lives.csv",
      "digest.txt",
    ]);
    expect(new Set(files.map(({ path }) => path)).size).toBe(files.length);
  });

  it("says on a page without an answer what is missing and what would settle it, and shows no estimate", () => {
    const page = textOf(named(files, "interval-grip-bearing-coastal-shielded.html"));
    expect(page).toContain("not enough evidence; 600 h stays");
    expect(page).toContain("What would settle it");
    expect(page).toContain("24 months without one, or the authority's own judgement of this one");
    expect(page).toContain("No risk is drawn: the data set no bound on any");
    expect(page).toContain("Too few data for any bound; estimates alone are not shown.");
    expect(page).not.toContain("deciding risk");
    const answered = textOf(named(files, "interval-grip-bearing-temperate-shielded.html"));
    expect(answered).not.toContain("What would settle it");
  });

  it("gives the same bytes twice", async () => {
    expect(await renderMonth(fullMonth())).toEqual(files);
  });

  it("refuses a slug that would leave the month's folder", async () => {
    const month = makeMonth();
    const [first] = month.recommendations;
    const recommendations = [{ ...first!, slug: "../../etc" }];
    await expect(renderMonth({ ...month, recommendations })).rejects.toThrow("not a slug");
  });

  it("makes pages of a month without anything in it", async () => {
    const empty = makeMonth({
      inputs: [],
      actNow: [],
      groups: [],
      recommendations: [],
      watchList: [],
      trends: [],
      gapQuarters: [],
      changes: null,
      problems: [],
      unknownWords: [],
      exclusions: [],
    });
    const index = textOf(named(await renderMonth(empty), "index.html"));
    expect(index).toContain("Nothing to act on now.");
    expect(index).toContain("it is not a clearance");
    expect(index).toContain("No earlier month is published");
  });
});

describe("every page", () => {
  it("lets in one style and one script by their hashes, and nothing else", () => {
    for (const { path, text } of pagesOf(files)) {
      const policy = /http-equiv="Content-Security-Policy" content="([^"]+)"/
        .exec(text)![1]!
        .replaceAll("&#39;", "'");
      const styles = [...text.matchAll(/<style>(.*?)<\/style>/gs)].map(([, body]) => body!);
      const scripts = [...text.matchAll(/<script>(.*?)<\/script>/gs)].map(([, body]) => body!);
      expect([styles.length, scripts.length], path).toEqual([1, 1]);
      expect(policy, path).toContain(`style-src ${hashOf(styles[0]!)};`);
      expect(policy, path).toContain(`script-src ${hashOf(scripts[0]!)};`);
      expect(policy, path).toContain("default-src 'none'");
      expect(policy, path).not.toContain("unsafe");
      expect(/<[^>]+ (style|on[a-z]+)=/.test(bareTags(text)), path).toBe(false);
      expect(/(src|href)="https?:/.test(text), path).toBe(false);
    }
  });

  it("carries the caution, the as-of date, the program and the settings", () => {
    for (const { path, text } of pagesOf(files)) {
      const shown = textOf(text);
      expect(shown, path).toContain("This report recommends; it changes no interval.");
      expect(shown, path).toContain("An interval that stays is not a clearance");
      expect(shown, path).toContain("as of 2026-03-31");
      expect(shown, path).toContain("rotorwear 0.1.0 · settings 5f1d0c6b5f1d");
    }
  });

  it("never calls anything safe or significant", () => {
    for (const { path, text } of pagesOf(files)) {
      expect(textOf(text), path).not.toMatch(/\bsafe\b|\bsafely\b|\bsignificant/i);
    }
  });

  it("links only to files of the month, or to the list of months", () => {
    const paths = new Set([...files.map(({ path }) => path), "rejected.csv", "../index.html"]);
    for (const { path, text } of pagesOf(files)) {
      for (const [, target] of text.matchAll(/<a[^>]* href="([^"#]+)"/g)) {
        expect(paths.has(target!), `${path} links to ${target}`).toBe(true);
      }
    }
  });
});

describe("index.html", () => {
  it("says first what to act on, with component, place, reading, limit and row", () => {
    const text = textOf(named(files, "index.html"));
    const act = text.indexOf("Act now: 2 findings");
    expect(act).toBeGreaterThan(0);
    expect(act).toBeLessThan(text.indexOf("Recommended intervals"));
    expect(text).toContain("Still fitted at or over the replace-at limit: 0153 , RW-03, arm 2");
    expect(text).toContain("0.56 mm . Limit: 0.50 mm .");
    expect(text).toContain("row exports/wear-2026-03.csv:412");
  });

  it("gives each group its answer, its failed rules by name and the last decision", () => {
    const text = textOf(named(files, "index.html"));
    expect(text).toContain("Shorten 300 h to 150 h");
    expect(text).toContain("Extend 600 h to 750 h");
    expect(text).toContain("Not enough evidence; 600 h stays");
    expect(text).toContain("20 of 22 passed Failed: functional failures, safeguards");
    expect(text).toContain("Authority: refused 800 h on 2025-03-12, until 20 lives over 700 h.");
    expect(text.indexOf("Shorten 300 h")).toBeLessThan(text.indexOf("Extend 600 h"));
  });

  it("says that nothing is extended outside the reviews", () => {
    const page = renderPage(IndexPage({ month: fullMonth({ isReview: false }) }));
    expect(textOf(page)).toContain("not one of the fleet file's reviews");
  });
});

describe("interval-SLUG.html", () => {
  it("has what an authority asks for, and leaves its decision to it", () => {
    const text = textOf(named(files, "interval-grip-bearing-temperate-shielded.html"));
    for (const part of [
      "Extend the grip bearing wear check from 600 h to 750 h",
      "AMP-62-11, revision 4, item 3",
      "GB-100-1 and GB-100-3",
      "An aircraft that moves to where the interval is shorter takes the shorter one, counted from its last look;",
      "What is not known",
      "What would change the answer",
      "Go back to 600 h at",
      "Prepared by",
      "Checked by",
      "Accepted for submission by",
      "Decision of the approving authority",
      // sha256sum of the lines "sha256  file" of the five inputs
      hashOfInputs(fullMonth().inputs),
    ]) {
      expect(text).toContain(part);
    }
  });

  it("names what fails and what would settle it", () => {
    const text = textOf(named(files, "interval-grip-bearing-sandy-shielded.html"));
    expect(text).toContain("20 of 22 rules that apply are passed");
    expect(text).toContain("Settled by: 24 months without one");
  });

  it("says that a task on an airworthiness limitation can't be extended", () => {
    expect(textOf(named(files, "interval-hinge-bushing-temperate-as-fitted.html"))).toContain(
      "This task rests on an airworthiness limitation: no evidence here can extend it.",
    );
  });

  it("refers to the engineering authority where no interval is demonstrated", () => {
    const month = fullMonth();
    const shorten = month.recommendations.find(({ recommendation }) => recommendation === "shorten")!;
    const recommendation = { ...shorten, recommendedIntervalH: null };
    const group = month.groups.find(({ key }) => sameGroup(key, shorten.group))!;
    const text = textOf(
      renderPage(IntervalPage({ month, recommendation, group, riskFigures: [], modeFigure: null })),
    );
    expect(text).toContain("shorten: refer to the engineering authority now");
  });
});

describe("data.html", () => {
  it("shows each file's ledger, and says where it does not add up", () => {
    expect(textOf(named(files, "data.html"))).toContain(
      "exports/wear-2026-03.csv 1004 990 2 9 3 980 3 7 adds up",
    );
    const month = fullMonth();
    const inputs = month.inputs.map((input) => ({ ...input, accepted: input.accepted - 5 }));
    const text = textOf(renderPage(DataPage({ month: { ...month, inputs } })));
    expect(text).toContain("5 rows unaccounted for");
  });

  it("lists problems with their meaning, unknown words with near matches, exclusions with their rows", () => {
    const text = textOf(named(files, "data.html"));
    expect(text).toContain("E-NUMBER 2 1 The cell is not a number");
    expect(text).toContain("Saltpann 3 Base environments Saltpan?");
    expect(text).toContain("0005 hours fall and nothing says why exports/wear-2026-03.csv:230");
  });
});

describe("method.html", () => {
  it("names what is not built yet, from the rule that fails for it", () => {
    const text = textOf(named(files, "method.html"));
    expect(text).toContain("2 safeguards that this version does not compute.");
    expect(text).toContain("bootstrap calibration below 50 components");
  });

  it("gives every method an assumption, a formula in words too, a source, when it fails and what is shown then", () => {
    const html = named(files, "method.html");
    const methods = [...html.matchAll(/<section[^>]*id="([a-z-]+)"[^>]*>(.*?)<\/section>/gs)].filter(
      ([, , body]) => body!.includes("<math"),
    );
    expect(methods.length).toBeGreaterThanOrEqual(18);
    for (const [, id, body] of methods) {
      for (const head of ["Assumes", "Fails when", "Shown then", "Source"]) {
        expect(body, `${id}: ${head}`).toMatch(new RegExp(`<dt>${head}</dt><dd>[^<]{10,}</dd>`));
      }
      expect(body, id).toMatch(/<math display="block" aria-label="[^"]{20,}"/);
    }
    expect(new Set(methods.map(([, id]) => id)).size).toBe(methods.length);
  });

  it("prints every threshold of the fleet file", () => {
    const text = textOf(named(files, "method.html"));
    expect(text).toContain("Early removals, at most 20 %");
    expect(text).toContain("Chance that one look sees it 90 %; detection trial report 12");
    expect(text).toContain("every 50 h; largest change 50 %");
  });
});

describe("monthsPage(months)", () => {
  it("lists months with their decisions, newest as given, text inert", () => {
    const entry = { folder: "2026-03", month: "2026-03", revision: 1, summary: [HOSTILE], hasPages: true };
    const page = monthsPage([{ ...entry, folder: "2026-03.2", revision: 2 }, entry]);
    const text = textOf(page);
    expect(text).toContain("1 month published; the latest is March 2026");
    expect(text).toContain("March 2026, revision 2");
    expect(page).toContain('href="2026-03.2/index.html"');
    expect(page.match(/<script/g)).toHaveLength(1);
    expect(page).not.toContain("<img");
  });
});

describe("hostile text in every field", () => {
  it("is inert on every page: no tag, attribute or direction mark of it gets through", async () => {
    for (const { path, text } of pagesOf(await renderMonth(hostileMonth()))) {
      expect(text.split("<script").length, path).toBe(2);
      expect(text.includes("<img"), path).toBe(false);
      expect(/<[^>]+ on[a-z]+=/.test(bareTags(text)), path).toBe(false);
      expect(/[\u202a-\u202e\u2066-\u2069]/.test(text), path).toBe(false);
      expect(text.includes("&lt;script"), path).toBe(true);
      expect(text.includes("⟨U+202E⟩"), path).toBe(true);
    }
  });
});
