import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { AxeBuilder } from "@axe-core/playwright";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { monthsPage } from "../../src/report/pages/months.tsx";
import { renderMonth } from "../../src/report/render-month.ts";
import { fullMonth } from "../report/full-month.ts";
import { HOSTILE, hostileMonth } from "../report/hostile-month.ts";
import { findBrowser, HOW_TO_INSTALL } from "./find-browser.ts";

const executablePath = findBrowser();
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
  "index.html",
];

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

  /** Opens a page and notes everything it should not do. */
  async function open(context: BrowserContext, path: string): Promise<{ page: Page; faults: string[] }> {
    const page = await context.newPage();
    const url = pathToFileURL(join(folder, path)).href;
    const faults: string[] = [];
    page.on("console", (message) => faults.push(`console: ${message.text().slice(0, 300)}`));
    page.on("pageerror", (error) => faults.push(`error: ${error.message.slice(0, 300)}`));
    page.on("dialog", (dialog) => {
      faults.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on("request", (request) => {
      if (request.url() !== url && request.url() !== "data:,")
        faults.push(`request: ${request.url().slice(0, 200)}`);
    });
    await page.goto(url);
    return { page, faults };
  }

  /** How far the page is wider than its window, and which elements make it so. */
  const overflow = (page: Page): Promise<string[]> =>
    page.evaluate(`(() => {
      const width = document.documentElement.clientWidth;
      if (document.documentElement.scrollWidth <= width) return [];
      return [...document.querySelectorAll("body *")]
        .filter((element) => element.getBoundingClientRect().right > width + 1 && !element.closest(".scroll, .skip"))
        .slice(0, 5)
        .map((element) => element.tagName + "." + element.className + " " + element.textContent.slice(0, 60));
    })()`);

  const settings = SCHEMES.flatMap((colorScheme) => WIDTHS.map((width) => ({ colorScheme, width })));

  it.each(settings)(
    "say nothing, ask for nothing and fit ($colorScheme, $width px)",
    async ({ colorScheme, width }) => {
      const context = await browser.newContext({ colorScheme, viewport: { width, height: 900 } });
      for (const path of PAGES) {
        const { page, faults } = await open(context, path);
        expect(faults, path).toEqual([]);
        expect(await overflow(page), path).toEqual([]);
        await page.close();
      }
      await context.close();
    },
  );

  // Contrast differs by scheme, order and focus by width: two opposite settings see all of it.
  it.each([
    { colorScheme: "light", width: 360 },
    { colorScheme: "dark", width: 1600 },
  ] as const)("have no fault that axe finds ($colorScheme, $width px)", async ({ colorScheme, width }) => {
    const context = await browser.newContext({ colorScheme, viewport: { width, height: 900 } });
    for (const path of PAGES) {
      const { page } = await open(context, path);
      // A drawing is one image with a label to a screen reader; its thousands of marks only cost time.
      await page.evaluate(
        `document.querySelectorAll("svg[role=img]").forEach((svg) => svg.replaceChildren())`,
      );
      const { violations } = await new AxeBuilder({ page }).analyze();
      const found = violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 200)}`);
      expect(found, path).toEqual([]);
      await page.close();
    }
    await context.close();
  });

  it("keep hostile text inert and inside the page", async () => {
    for (const width of [360, 1600]) {
      const context = await browser.newContext({ viewport: { width, height: 900 } });
      for (const name of [
        "index",
        "trend",
        "data",
        "method",
        "months",
        "interval-grip-bearing-sandy-plain",
      ]) {
        const { page, faults } = await open(context, `hostile/${name}.html`);
        expect(faults, name).toEqual([]);
        expect(await page.locator("img").count(), name).toBe(0);
        expect(await page.locator("script").count(), name).toBe(1);
        expect(await overflow(page), `${name} at ${width}`).toEqual([]);
        await page.close();
      }
      await context.close();
    }
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
