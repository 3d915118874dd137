/** The package as somebody else gets it: packed, installed in an empty folder, run. */
import { execFile } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { type Browser, chromium, type Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { findBrowser } from "../../src/run/find-browser.ts";
import { axeFaults, keepUnlike, openPage, overflow } from "../browser/open-page.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const run = promisify(execFile);

// npm tells its own children about itself by the environment; the installation must not be influenced by that.
const env = Object.fromEntries(
  Object.entries(process.env).filter(([name]) => !/^npm_(?!config_)/i.test(name)),
);

const executablePath = await findBrowser(process.env);

let folder: string;
/** The demonstration month that the package made. */
let month: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "rotorwear-pack-"));
  await run("npm", ["pack", "--silent", "--pack-destination", folder], { cwd: ROOT, env });
  const [tarball] = await readdir(folder);
  await mkdir(join(folder, "user"));
  await writeFile(join(folder, "user", "package.json"), '{"name":"user","private":true}\n');
  const install = [
    "install",
    "--silent",
    "--prefer-offline",
    "--no-audit",
    "--no-fund",
    join(folder, tarball!),
  ];
  await run("npm", install, { cwd: join(folder, "user"), env });
}, 300_000);

const rotorwear = (...args: string[]) =>
  run("npx", ["--no-install", "rotorwear", ...args], { cwd: join(folder, "user"), env });

/** Asked again and again from outside: the pages' policy allows no script of ours to wait inside. */
async function firstPaintMs(page: Page): Promise<number> {
  for (let attempt = 0; attempt < 100; attempt++) {
    const paint = await page.evaluate<number | null>(
      `performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? null`,
    );
    if (paint !== null) return paint;
    await page.waitForTimeout(50);
  }
  throw new Error("the page painted nothing in five seconds");
}

/** First contentful paint, the quickest of three: a busy machine is no fault of the page. */
async function quickestPaintMs(browser: Browser, path: string): Promise<number> {
  const page = await browser.newPage();
  const paints: number[] = [];
  for (let k = 0; k < 3; k++) {
    await page.goto(pathToFileURL(path).href);
    paints.push(await firstPaintMs(page));
  }
  await page.close();
  return Math.min(...paints);
}

interface Held {
  readonly estimate: number;
  readonly upper: number | null;
}

interface RunJson {
  readonly recommendations: readonly {
    readonly part: string;
    readonly environment: string;
    readonly standard: string;
    readonly recommendation: string;
    readonly risks: readonly {
      readonly interval_h: number;
      readonly over_limit_per_inspection: { readonly life: Held | null; readonly wear: Held | null };
      readonly unsafe_before_seen: Held | null;
    }[];
  }[];
}

/** The cells of a table's row as numbers; NaN where a cell holds words. */
const numbersOf = (row: string): number[] =>
  [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/g)].map(([, cell]) =>
    Number(cell!.replace(/<[^>]*>/g, "").replace(/[\u2007\u2008\u202f]/g, "")),
  );

const published = "node_modules/rotorwear/data-samples/published";

describe("npm pack, installed in an empty folder", () => {
  it("answers --help", async () => {
    expect((await rotorwear("--help")).stdout).toContain("Usage: rotorwear");
  });

  it("fits the published wear and life tables that come with it", async () => {
    const tables = await readdir(join(folder, "user", published));
    for (const command of ["wear", "life"]) {
      const table = tables.find((name) => name.endsWith(`-${command}.csv`))!;
      expect(table, `a published ${command} table`).toBeDefined();
      const { stdout } = await rotorwear(command, join(published, table), "--json");
      expect(JSON.parse(stdout)).toMatchObject({ schema: `rotorwear/${command}/1` });
    }
  });

  it("makes the demonstration month, its worker included", async () => {
    const fleet = "node_modules/rotorwear/data-samples/demonstration/fleet.yaml";
    const { stdout } = await rotorwear("report", fleet, "--out", "reports");
    const [page] = stdout.split("\n");
    expect(await readdir(join(folder, "user", "reports"))).toContain("index.html");
    expect(page).toMatch(/^reports\/\d{4}-\d{2}\/index\.html$/);
    month = join(folder, "user", dirname(page!));
  }, 300_000);

  it("keeps the demonstration month small: under 6 MB, its index under 300 kB, a page's sliders under 60 kB", async () => {
    const files = await readdir(month);
    const sizes = await Promise.all(files.map(async (name) => (await stat(join(month, name))).size));
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(6_000_000);
    expect(sizes[files.indexOf("index.html")]).toBeLessThan(300_000);
    const officers = files.filter((name) => name.startsWith("interval-"));
    expect(officers.length).toBeGreaterThan(5);
    for (const name of officers) {
      const text = await readFile(join(month, name), "utf8");
      expect(/data-what-if="([^"]*)"/.exec(text)?.[1]?.length ?? 0, name).toBeLessThan(60_000);
    }
  });

  it.skipIf(executablePath === null)(
    "its pages say nothing, ask for nothing, fit, and paint within a second",
    async () => {
      const browser = await chromium.launch({ executablePath: executablePath!, args: ["--no-sandbox"] });
      const pages = (await readdir(month)).filter((name) => name.endsWith(".html"));
      try {
        for (const colorScheme of ["light", "dark"] as const) {
          const context = await browser.newContext({ colorScheme });
          for (const name of pages) {
            const { page, faults } = await openPage(context, join(month, name));
            for (const width of [360, 900, 1600]) {
              await page.setViewportSize({ width, height: 900 });
              expect(await overflow(page), `${name} at ${width} px`).toEqual([]);
            }
            expect(faults, name).toEqual([]);
            await page.close();
          }
          await context.close();
        }
        expect(await quickestPaintMs(browser, join(month, "index.html"))).toBeLessThan(1000);
      } finally {
        await browser.close();
      }
    },
    300_000,
  );

  it.skipIf(executablePath === null)(
    "axe finds no fault with its pages, each kind of them and every third officer's, in the dark, nor while a slider is off the published settings",
    async () => {
      const browser = await chromium.launch({ executablePath: executablePath!, args: ["--no-sandbox"] });
      // One in three: they are made by one component, and axe takes a second a page.
      const officers = (await readdir(month))
        .filter((name) => name.startsWith("interval-"))
        .filter((_, k) => k % 3 === 0);
      const single = ["index.html", "trend.html", "data.html", "method.html", "../index.html"];
      try {
        const context = await browser.newContext({ viewport: { width: 360, height: 900 } });
        for (const name of [...single, ...officers]) {
          const page = await context.newPage();
          await page.goto(pathToFileURL(join(month, name)).href);
          await keepUnlike(page);
          // Officer's pages have the same colours: contrast, the other scheme and the sliders are tried on one of them.
          const unlike = single.includes(name) || name === officers[0];
          expect(await axeFaults(page, unlike ? "all" : "all but contrast"), name).toEqual([]);
          if (unlike) {
            await page.emulateMedia({ colorScheme: "dark" });
            expect(await axeFaults(page, "contrast"), `${name}, dark`).toEqual([]);
          }
          if (name === officers[0]) {
            await page.locator("#what-if-0").fill("0");
            expect(await page.locator(".what-if-head").isVisible()).toBe(true);
            expect(await axeFaults(page, "all"), `${name}, what if, dark`).toEqual([]);
            await page.emulateMedia({ colorScheme: "light" });
            expect(await axeFaults(page, "contrast"), `${name}, what if`).toEqual([]);
          }
          await page.close();
        }
      } finally {
        await browser.close();
      }
    },
    300_000,
  );

  it("shows in its tables what run.json holds", async () => {
    const run = JSON.parse(await readFile(join(month, "run.json"), "utf8")) as RunJson;
    const officers = (await readdir(month)).filter((name) => name.startsWith("interval-"));
    for (const name of officers) {
      const text = await readFile(join(month, name), "utf8");
      const own = run.recommendations.find(({ part, environment, standard }) =>
        text.toLowerCase().includes(`<bdi>${part}, ${environment}, ${standard}:`),
      )!;
      if (own.recommendation === "not enough evidence") {
        expect(text, name).toContain("Too few data for any bound; estimates alone are not shown.");
        continue;
      }
      const table = text.split("Risk at every interval")[1]!.split("</table>")[0]!;
      const shown = table.split("<tr").slice(2).map(numbersOf);
      expect(shown.length, name).toBe(own.risks.length);
      own.risks.forEach((risk, k) => {
        const { life, wear } = risk.over_limit_per_inspection;
        const held = [life, wear, risk.unsafe_before_seen].flatMap((one) => [one?.estimate, one?.upper]);
        expect(shown[k]![0], name).toBe(risk.interval_h);
        held.forEach((value, at) => {
          const cell = shown[k]![at + 1]!;
          if (value == null || Number.isNaN(cell)) return;
          const where = `${name}, ${risk.interval_h} h`;
          // Two digits at least: an estimate within a twentieth, an upper bound no lower and at most a tenth higher.
          if (at % 2 === 0)
            expect(Math.abs(cell - 100 * value), where).toBeLessThanOrEqual(5 * value + 0.001);
          else {
            expect(cell, where).toBeGreaterThanOrEqual(100 * value * (1 - 1e-8));
            expect(cell, where).toBeLessThanOrEqual(110 * value + 0.001);
          }
        });
      });
    }
  });

  it("holds no test, source or map of the project", async () => {
    const files = await readdir(join(folder, "user", "node_modules", "rotorwear"));
    expect(files.sort()).toEqual(["README.md", "data-samples", "dist", "package.json"].sort());
  });
});
