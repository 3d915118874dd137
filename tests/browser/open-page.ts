/** Pages in a browser, watched for what they should not do. */
import { pathToFileURL } from "node:url";
import { AxeBuilder } from "@axe-core/playwright";
import type { BrowserContext, Page } from "playwright-core";

/** How to get a browser where there is none. */
export const HOW_TO_INSTALL =
  "No Chromium found, so the browser tests are skipped: apt-get install -y chromium";

/** Opens a page and notes everything it should not do. */
export async function openPage(
  context: BrowserContext,
  path: string,
): Promise<{ page: Page; faults: string[] }> {
  const page = await context.newPage();
  const url = pathToFileURL(path).href;
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

/** Which elements make the page wider than its window; none where it fits. */
export const overflow = (page: Page): Promise<string[]> =>
  page.evaluate(`(() => {
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= width) return [];
    return [...document.querySelectorAll("body *")]
      .filter((element) => element.getBoundingClientRect().right > width + 1 && !element.closest(".scroll, .skip"))
      .slice(0, 5)
      .map((element) => element.tagName + "." + element.className + " " + element.textContent.slice(0, 60));
  })()`);

/** Drawings whose smallest type comes out under 11 px in the window as it is: "7.9 px in …". */
export const tooSmall = (page: Page): Promise<string[]> =>
  page.evaluate(`(() => [...document.querySelectorAll("svg[role=img]")].flatMap((svg) => {
    const shown = svg.getBoundingClientRect().width;
    if (shown === 0) return [];
    const sizes = [...svg.querySelectorAll("text[font-size]")].map((text) => parseFloat(text.getAttribute("font-size")));
    const least = Math.min(...sizes) * shown / svg.viewBox.baseVal.width;
    return least < 10.99 ? [least.toFixed(1) + " px in " + svg.getAttribute("aria-label").slice(0, 60)] : [];
  }))()`);

/**
 * Leaves of a page what axe needs to see: a drawing is one image with a label to a screen reader, and the rows of a table
 * and the panels of a row are alike, so their thousands of marks and cells would only cost time.
 */
export const keepUnlike = (page: Page): Promise<void> =>
  page.evaluate(`(() => {
    for (const svg of document.querySelectorAll("svg[role=img]")) svg.replaceChildren();
    for (const body of document.querySelectorAll("tbody")) for (const row of [...body.rows].slice(3)) row.remove();
    for (const panels of document.querySelectorAll(".figures")) for (const one of [...panels.children].slice(2)) one.remove();
  })()`);

/** What axe finds wrong with a page as it stands; contrast, the costly one of its rules, alone or left out. */
export async function axeFaults(
  page: Page,
  what: "all" | "contrast" | "all but contrast",
): Promise<string[]> {
  const axe = new AxeBuilder({ page }).options({ resultTypes: ["violations"] });
  if (what === "contrast") axe.withRules("color-contrast");
  if (what === "all but contrast") axe.disableRules("color-contrast");
  const { violations } = await axe.analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 200)}`);
}
