import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { WhatIfData } from "../../src/report/pages/interval-what-if.tsx";
import { monthsPage } from "../../src/report/pages/months.tsx";
import { renderMonth } from "../../src/report/render-month.ts";
import { renderRecord } from "../../src/report/render-record.ts";
import { findBrowser } from "../../src/run/find-browser.ts";
import { fullMonth } from "../report/full-month.ts";
import { HOSTILE, hostileMonth, hostileRecord } from "../report/hostile-month.ts";
import { makeRecord } from "../support/make-record.ts";
import { axeFaults, HOW_TO_INSTALL, keepUnlike, openPage, overflow, tooSmall } from "./open-page.ts";

const executablePath = await findBrowser(process.env);
if (executablePath === null) console.warn(HOW_TO_INSTALL);

const WIDTHS = [360, 900, 1600] as const;
const SCHEMES = ["light", "dark"] as const;
const PAGES = [
  "2026-03/index.html",
  "2026-03/trend.html",
  "2026-03/data.html",
  "2026-03/method.html",
  "2026-03/interval-grip-bearing-temperate-shielded.html",
  "2026-03/interval-grip-bearing-sandy-plain.html",
  "2026-03/interval-grip-bearing-coastal-shielded.html",
  "record-2026-03/record.html",
  "index.html",
];
/** The kinds that the demonstration month doesn't have: axe looks at all others there (tests/package/pack.test.ts). */
const OTHER_PAGES = ["record-2026-03/record.html"];

/** Time for a step on a busy machine. */
const SLOW_MS = 180_000;

let browser: Browser;
let folder: string;

async function write(into: string, files: readonly { path: string; text: string }[]): Promise<void> {
  for (const { path, text } of files) {
    mkdirSync(dirname(join(folder, into, path)), { recursive: true });
    writeFileSync(join(folder, into, path), text);
  }
}

const entry = { folder: "2026-03", month: "2026-03", revision: 1, hasPages: true };

describe.skipIf(executablePath === null)("pages in a browser", { timeout: SLOW_MS }, () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "rotorwear-pages-"));
    await write("2026-03", await renderMonth(fullMonth()));
    await write("hostile", await renderMonth(hostileMonth()));
    await write("hostile", await renderRecord(hostileRecord()));
    await write("record-2026-03", await renderRecord(makeRecord()));
    await write("", [
      { path: "index.html", text: monthsPage([{ ...entry, summary: ["Nothing to act on now."] }]) },
    ]);
    await write("hostile", [{ path: "months.html", text: monthsPage([{ ...entry, summary: [HOSTILE] }]) }]);
    browser = await chromium.launch({ executablePath: executablePath!, args: ["--no-sandbox"] });
  }, SLOW_MS);

  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true });
  });

  const open = (context: BrowserContext, path: string) => openPage(context, join(folder, path));

  it.each(SCHEMES)("say nothing, ask for nothing and fit at three widths (%s)", async (colorScheme) => {
    const context = await browser.newContext({ colorScheme });
    for (const path of PAGES) {
      const { page, faults } = await open(context, path);
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 900 });
        expect(await overflow(page), `${path} at ${width} px`).toEqual([]);
        expect(await tooSmall(page), `${path} at ${width} px`).toEqual([]);
      }
      expect(faults, path).toEqual([]);
      await page.close();
    }
    await context.close();
  });

  // Order, names and focus don't change with the scheme, contrast does: the whole once, contrast again in the dark.
  it.each([
    { colorScheme: "light", width: 360 },
    { colorScheme: "dark", width: 1600 },
  ] as const)("have no fault that axe finds ($colorScheme, $width px)", async ({ colorScheme, width }) => {
    const context = await browser.newContext({ colorScheme, viewport: { width, height: 900 } });
    for (const path of OTHER_PAGES) {
      const { page } = await open(context, path);
      await keepUnlike(page);
      const found = await axeFaults(page, colorScheme === "dark" ? "contrast" : "all");
      expect(found, path).toEqual([]);
      await page.close();
    }
    await context.close();
  });

  it("answer by their sliders as the tables say, head it as no recommendation, and print as published", async () => {
    const context = await browser.newContext({ viewport: { width: 900, height: 900 } });
    const path = "2026-03/interval-grip-bearing-temperate-shielded.html";
    const { page, faults } = await open(context, path);
    const given = JSON.parse(
      (await page.locator("[data-what-if]").getAttribute("data-what-if"))!,
    ) as WhatIfData;
    const visible = (selector: string) => page.locator(selector).first().isVisible();
    const shown = async () => ({
      answer: await page.locator(".what-if-answer").textContent(),
      asking: await visible(".what-if-head"),
      title: await visible("h1:not(.what-if-head)"),
      proposal: await visible(".proposed"),
      signatures: await visible(".sign"),
    });
    const [confidence, risk, limit] = given.sliders.map(({ at }) => at) as [number, number, number];
    const published = {
      answer: given.lines[given.answers[confidence]![risk]!],
      ...{ asking: false, title: true, proposal: true, signatures: true },
    };
    const other = { asking: true, title: false, proposal: false, signatures: false };
    expect(await shown()).toEqual(published);
    for (const [c, row] of given.answers.entries()) {
      for (const [r, line] of row.entries()) {
        await page.locator("#what-if-0").fill(String(c));
        await page.locator("#what-if-1").fill(String(r));
        const asPublished = c === confidence && r === risk;
        expect(await shown(), `${c}, ${r}`).toEqual(
          asPublished ? published : { ...other, answer: given.lines[line] },
        );
      }
    }
    for (const [l, line] of given.byLimit.entries()) {
      if (l === limit) continue;
      await page.locator("#what-if-2").fill(String(l));
      expect(await shown(), `limit ${l}`).toEqual({ ...other, answer: given.lines[line] });
      // The limit moves by itself: the others are back where they were.
      expect(await page.locator("#what-if-0").inputValue()).toBe(String(confidence));
    }
    await page.emulateMedia({ media: "print" });
    expect((await visible(".what-if-head")) || (await visible(".what-if"))).toBe(false);
    expect(
      (await visible("h1:not(.what-if-head)")) && (await visible(".proposed")) && (await visible(".sign")),
    ).toBe(true);
    await page.emulateMedia({ media: "screen" });
    await page.evaluate(`window.dispatchEvent(new Event("beforeprint"))`);
    expect(await shown()).toEqual(published);
    await page.locator("#what-if-0").fill("0");
    await page.getByRole("button", { name: "Back to the published settings" }).click();
    expect(await shown()).toEqual(published);
    expect(faults).toEqual([]);
    const silent = await browser.newContext({ javaScriptEnabled: false });
    const { page: still } = await open(silent, path);
    expect(await still.locator(".what-if").isVisible()).toBe(false);
    expect(await still.locator(".proposed").isVisible()).toBe(true);
    await context.close();
    await silent.close();
  });

  it("keep hostile text inert and inside the page", async () => {
    const context = await browser.newContext();
    const names = [
      "index",
      "trend",
      "data",
      "method",
      "months",
      "interval-grip-bearing-sandy-plain",
      "record",
    ];
    for (const name of names) {
      const { page, faults } = await open(context, `hostile/${name}.html`);
      expect(await page.locator("img").count(), name).toBe(0);
      expect(await page.locator("script").count(), name).toBe(1);
      for (const width of [360, 1600]) {
        await page.setViewportSize({ width, height: 900 });
        expect(await overflow(page), `${name} at ${width}`).toEqual([]);
      }
      expect(faults, name).toEqual([]);
      await page.close();
    }
    await context.close();
  });

  it("print the proposal on two pages and the annex from the third, on A4 and Letter", async () => {
    const context = await browser.newContext();
    for (const slug of ["temperate-shielded", "sandy-shielded", "sandy-plain"]) {
      const { page } = await open(context, `2026-03/interval-grip-bearing-${slug}.html`);
      for (const format of ["A4", "Letter"] as const) {
        const whole = pagesOf(await page.pdf({ format }));
        const withoutAnnex = pagesOf(await printedWithoutAnnex(page, format));
        expect(withoutAnnex, `${slug} on ${format}`).toBe(2);
        expect(whole, `${slug} on ${format}`).toBeGreaterThanOrEqual(3);
        expect(whole, `${slug} on ${format}`).toBeLessThanOrEqual(5);
      }
      await page.close();
    }
    await context.close();
  });

  /** The same page with its annex taken out, and put back afterwards. */
  async function printedWithoutAnnex(page: Page, format: "A4" | "Letter"): Promise<Buffer> {
    await page.evaluate(`(() => {
      for (let node = document.querySelector(".annex-head"); node; node = node.nextElementSibling) node.hidden = true;
    })()`);
    const pdf = await page.pdf({ format });
    await page.evaluate(`(() => {
      for (let node = document.querySelector(".annex-head"); node; node = node.nextElementSibling) node.hidden = false;
    })()`);
    return pdf;
  }

  it("sort and filter tables where scripts run, and are complete where they don't", async () => {
    const context = await browser.newContext({ viewport: { width: 1200, height: 900 } });
    const { page } = await open(context, "2026-03/index.html");
    const watch = page.locator("#watch table");
    const serials = () => watch.locator("tbody th").allTextContents();
    expect(await serials()).toEqual(["0031", "0032", "0033"]);
    await watch.getByRole("button", { name: "Over by next look" }).click();
    expect(await serials()).toEqual(["0033", "0032", "0031"]);
    await watch.getByRole("button", { name: "Over by next look" }).click();
    expect(await serials()).toEqual(["0031", "0032", "0033"]);
    const silent = await browser.newContext({ javaScriptEnabled: false });
    const { page: still } = await open(silent, "2026-03/index.html");
    expect(await still.locator("button").count()).toBe(0);
    expect(await still.locator("#watch tbody th").allTextContents()).toEqual(["0031", "0032", "0033"]);
    await context.close();
    await silent.close();
  });
});

/** Pages of a PDF, from its page objects. */
const pagesOf = (pdf: Buffer): number =>
  (pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
