// The README's pictures, made from a published demonstration month: node tests/support/pictures.mjs [reports]
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const out = resolve(process.argv[2] ?? "reports");
const month = join(out, readFileSync(join(out, "latest"), "utf8").trim());
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
});
const page = await browser.newPage({ colorScheme: "light", deviceScaleFactor: 1 });
mkdirSync("reports/example", { recursive: true });

await page.setViewportSize({ width: 1200, height: 1250 });
await page.goto(pathToFileURL(join(month, "index.html")).href);
await page.screenshot({ path: "reports/example/month.png" });

// The first page as it prints.
await page.goto(pathToFileURL(join(month, "interval-grip-bearing-wear-check-temperate-shielded.html")).href);
const pdf = join(mkdtempSync(join(tmpdir(), "rotorwear-")), "officer.pdf");
await page.pdf({ path: pdf, format: "A4", preferCSSPageSize: true });
await browser.close();
const options = ["-png", "-r", "96", "-f", "1", "-l", "1", "-singlefile"];
execFileSync("pdftoppm", [...options, pdf, "reports/example/officer"]);
